import { log } from '../arithmetic/exponential.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';

/** Electronic noise as read off peaks, FWHM, eV. */
export interface NoiseEstimate {
  readonly noiseEv: number;
  /** Standard deviation by counting alone. */
  readonly sigmaEv: number;
}

/** A peak is only as sharp as it is for sure: this many standard deviations are added before peaks are compared. */
const FOR_SURE = 2;
/** Below this energy, eV, L lines stand close together; what is wider there than a detector in use (FWHM, eV; common practice, no source) is a hump of several. */
const SOFT_EV = 1000;
const MOST_IN_USE_EV = 90;
const LEAST_EV = 15;
const MOST_EV = 150;

/**
 * Electronic noise (FWHM, eV) implied by the sharpest strong peak: a parabola through the logarithm of each strong
 * peak's top gives its FWHM, from which the statistical part is taken. Null when no peak is strong enough.
 * Merged peaks are wider than one line, so the smallest implied noise is the one to believe; among peaks of few counts chance
 * makes some too sharp, so each is taken with its uncertainty.
 * @param fanoPairEv Fano factor times energy per electron-hole pair, eV
 */
export function startingNoise(
  counts: Float64Array,
  axis: EnergyAxis,
  range: { readonly lo: number; readonly hi: number },
  fanoPairEv: number,
): NoiseEstimate | null {
  let highest = 0;
  for (let i = range.lo; i < range.hi; i++) highest = Math.max(highest, counts[i]);
  const threshold = Math.max(400, highest * 0.05);
  let best: { squared: number; sigma: number } | null = null;
  for (let i = range.lo + 3; i < range.hi - 3; i++) {
    const top = counts[i];
    if (top < threshold || top < counts[i - 1] || top <= counts[i + 1]) continue;
    const width = topWidth(counts, i, axis.gainEv);
    if (width === null) continue;
    const energy = axis.offsetEv + axis.gainEv * i;
    const squared = width.squared - 8 * Math.LN2 * fanoPairEv * energy;
    if (energy < SOFT_EV && squared > MOST_IN_USE_EV ** 2) continue;
    if (best === null || squared + FOR_SURE * width.sigma < best.squared + FOR_SURE * best.sigma)
      best = { squared, sigma: width.sigma };
  }
  if (best === null) return null;
  const noiseEv = Math.sqrt(Math.min(MOST_EV ** 2, Math.max(LEAST_EV ** 2, best.squared)));
  return { noiseEv, sigmaEv: best.sigma / (2 * noiseEv) };
}

/** Square of an FWHM, eV2, and its standard deviation. */
interface Width {
  readonly squared: number;
  readonly sigma: number;
}

/** Parts of its top above which a peak is looked at. */
const LOW = 0.6;
const HIGH = 0.8;
/** Sharper by so many standard deviations at its very top, a peak has a neighbour in its flank: Ti L beside O K. */
const HAS_NEIGHBOUR = 4;
/** Counts at the top from which three or four channels tell a width that chance does not. */
const ENOUGH = 5000;

/** Channels that the top of a peak takes at the most. */
const MOST_CHANNELS = 40;

function topWidth(counts: Float64Array, top: number, gainEv: number): Width | null {
  const low = parabolaWidth(counts, top, LOW, gainEv);
  const high = counts[top] < ENOUGH ? null : parabolaWidth(counts, top, HIGH, gainEv);
  return low && high && high.squared + HAS_NEIGHBOUR * high.sigma < low.squared ? high : low;
}

/**
 * Square of the FWHM, eV2, and its standard deviation, from a weighted parabola through ln(counts) where they exceed a part of the
 * top; null if not a clear peak.
 */
function parabolaWidth(counts: Float64Array, top: number, part: number, gainEv: number): Width | null {
  const level = part * counts[top];
  let from = top;
  let to = top;
  // A ramp is above a part of its top everywhere: nobody follows it to its end, from each of its channels.
  while (from > 0 && top - from <= MOST_CHANNELS && counts[from - 1] > level) from--;
  while (to < counts.length - 1 && to - top <= MOST_CHANNELS && counts[to + 1] > level) to++;
  if (to - from < 2 || to - from > MOST_CHANNELS) return null;
  const moments = new Float64Array(5);
  const values = new Float64Array(3);
  for (let i = from; i <= to; i++) {
    const x = i - top;
    const y = counts[i];
    const logY = log(y);
    for (let k = 0, power = 1; k < 5; k++, power *= x) {
      moments[k] += y * power;
      if (k < 3) values[k] += y * logY * power;
    }
  }
  const { curvature, variance } = leadingCoefficient(moments, values);
  if (!(curvature < 0)) return null;
  const sigmaSquared = -1 / (2 * curvature) - 1 / 12;
  if (!(sigmaSquared > 0)) return null;
  const perSigmaSquared = 8 * Math.LN2 * gainEv * gainEv;
  return {
    squared: perSigmaSquared * sigmaSquared,
    sigma: (perSigmaSquared * Math.sqrt(variance)) / (2 * curvature * curvature),
  };
}

/** Quadratic coefficient of a weighted parabola from its moments (Cramer's rule), and its variance where weights are 1 / variance. */
function leadingCoefficient(m: Float64Array, v: Float64Array): { curvature: number; variance: number } {
  const [m0, m1, m2, m3, m4] = [m[0], m[1], m[2], m[3], m[4]];
  const [v0, v1, v2] = [v[0], v[1], v[2]];
  const det = m0 * (m2 * m4 - m3 * m3) - m1 * (m1 * m4 - m2 * m3) + m2 * (m1 * m3 - m2 * m2);
  const top = m0 * (m2 * v2 - m3 * v1) - m1 * (m1 * v2 - m2 * v1) + v0 * (m1 * m3 - m2 * m2);
  return { curvature: top / det, variance: (m0 * m2 - m1 * m1) / det };
}

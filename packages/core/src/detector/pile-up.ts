import { cos, sin } from '../arithmetic/angle.ts';
import { exp } from '../arithmetic/exponential.ts';
import { fourier, sizeFor, type Complex } from '../arithmetic/fourier.ts';
import { erfc } from './error-function.ts';
import type { Axis } from './line-shape.ts';
import { FWHM_PER_SIGMA } from './resolution.ts';

/** How well the electronics tell two photons apart in time. */
export interface PileUp {
  /** Two photons that both trigger the fast channel count as one within this time, s. */
  readonly resolvingTimeS: number;
  /** The same where at least one of them is too weak to trigger it, s. */
  readonly blindTimeS: number;
  /** Energy at which the fast channel sees half the photons, eV. */
  readonly fastThresholdEv: number;
  /** Noise of the fast channel (FWHM), eV. */
  readonly fastNoiseEv: number;
}

/** A present-day drift detector; common practice, no source: 0.1 to 0.5 us, some times longer below about 1 keV. */
export const DEFAULT_PILE_UP: PileUp = {
  resolvingTimeS: 3e-7,
  blindTimeS: 1.5e-6,
  fastThresholdEv: 900,
  fastNoiseEv: 350,
};

/** Photons in one live second that the fast channel sees, and that it does not. */
interface Rates {
  readonly seen: number;
  readonly unseen: number;
}

/**
 * Recorded counts where photons that arrive together count as one. A photon opens a window; what falls into it adds its
 * energy. With n the counts of one live second, an event of k more photons has the spectrum n * (t n)^k / k!, * the folding:
 * pairs 2 n_i n_j t, i = j half of that, triples and so on likewise, and each photon in a sum is missing at its own energy.
 * Sums are at the sum of the energies on the axis, zero of energy respected; those beyond its end are lost. Charges of a sum
 * are measured once, so it carries the electronic noise once.
 * @param counts photons by the channel in which each alone would be recorded (no zero peak), length n
 * @param noiseEv electronic noise (FWHM) that the shapes in `counts` contain, eV; 0 leaves sums with the noise of each partner
 * Source: Poisson arrivals with a window that does not extend itself; first order: pile-up spectrum = t (n * n).
 */
export function withPileUp(
  counts: Float64Array,
  axis: Axis,
  liveTimeS: number,
  pileUp: PileUp = DEFAULT_PILE_UP,
  noiseEv = 0,
): Float64Array {
  const { resolvingTimeS: fast, blindTimeS: slow } = pileUp;
  const seen = counts.map((count, i) => count * seenShare(pileUp, axis.offsetEv + axis.gainEv * i));
  const unseen = counts.map((count, i) => count - seen[i]);
  const rates = { seen: sum(seen) / liveTimeS, unseen: sum(unseen) / liveTimeS };
  if (!(rates.seen + rates.unseen > 0)) return counts.slice();
  const alone = aloneShares(rates, fast, slow);
  const sums = addedBySums(seen, unseen, axis, { fast: fast / liveTimeS, slow: slow / liveTimeS }, alone, noiseEv);
  return counts.map((_, i) => alone.seen * seen[i] + alone.unseen * unseen[i] + Math.max(0, sums[i]));
}

/**
 * Windows are counted as if they did not overlap: true while fewer than this many photons that the fast channel sees arrive in the
 * time by which the blind one is slower. Beyond, fewer than no windows would be opened by the others.
 */
const MOST_PER_BLIND_TIME = 0.9;

/**
 * The same electronics, slower or faster, so that the given part of all recorded events are sums, or as near to it as windows do not
 * overlap. @param part 0 to 0.9
 */
export function pileUpOfPart(
  counts: Float64Array,
  axis: Axis,
  liveTimeS: number,
  part: number,
  like: PileUp = DEFAULT_PILE_UP,
): PileUp {
  const seen = counts.reduce((a, count, i) => a + count * seenShare(like, axis.offsetEv + axis.gainEv * i), 0);
  const rates = { seen: seen / liveTimeS, unseen: (sum(counts) - seen) / liveTimeS };
  if (!(rates.seen + rates.unseen > 0) || !(part > 0)) return { ...like, resolvingTimeS: 0, blindTimeS: 0 };
  const slower = rates.seen * (like.blindTimeS - like.resolvingTimeS);
  const fastest = Math.min(like.resolvingTimeS, like.blindTimeS) * (rates.seen + rates.unseen);
  let [low, high] = [0, Math.min(3 / fastest, slower > 0 ? MOST_PER_BLIND_TIME / slower : Infinity)];
  for (let step = 0; step < 60; step++) {
    const middle = 0.5 * (low + high);
    if (partOfSums(rates, like.resolvingTimeS * middle, like.blindTimeS * middle) < part) low = middle;
    else high = middle;
  }
  return { ...like, resolvingTimeS: like.resolvingTimeS * low, blindTimeS: like.blindTimeS * low };
}

/** Part of the photons of an energy that trigger the fast channel. */
function seenShare({ fastThresholdEv, fastNoiseEv }: PileUp, energyEv: number): number {
  return 0.5 * erfc(((fastThresholdEv - energyEv) * FWHM_PER_SIGMA) / (fastNoiseEv * Math.SQRT2));
}

/** Rates of windows by the photon that opens them: every photon either opens one or falls into one. */
function windows({ seen, unseen }: Rates, fast: number, slow: number): Rates {
  const [a, b, c, d] = [1 + seen * fast, seen * slow, unseen * slow, 1 + unseen * slow];
  const determinant = a * d - b * c;
  return { seen: (seen * d - b * unseen) / determinant, unseen: (a * unseen - c * seen) / determinant };
}

/** Part of the photons of each kind that are recorded alone: they open a window, and nothing falls into it. */
function aloneShares(rates: Rates, fast: number, slow: number): Rates {
  const opened = windows(rates, fast, slow);
  return {
    seen: rates.seen > 0 ? (opened.seen / rates.seen) * exp(-fast * rates.seen - slow * rates.unseen) : 0,
    unseen: rates.unseen > 0 ? (opened.unseen / rates.unseen) * exp(-slow * (rates.seen + rates.unseen)) : 0,
  };
}

function partOfSums(rates: Rates, fast: number, slow: number): number {
  const opened = windows(rates, fast, slow);
  const alone = aloneShares(rates, fast, slow);
  return 1 - (alone.seen * rates.seen + alone.unseen * rates.unseen) / (opened.seen + opened.unseen);
}

/**
 * Events of two and more photons: alone_s S (exp(f P + s Q) - 1) + alone_u U (exp(s (P + Q)) - 1), all of them transforms:
 * S and U the seen and unseen photons, P and Q the same by energy (zero at place 0) and freed from noise.
 */
function addedBySums(
  seen: Float64Array,
  unseen: Float64Array,
  axis: Axis,
  time: { readonly fast: number; readonly slow: number },
  alone: Rates,
  noiseEv: number,
): Float64Array {
  const size = sizeFor(2 * seen.length);
  const first = { re: padded(seen, size), im: padded(unseen, size) };
  fourier(first);
  const zero = -axis.offsetEv / axis.gainEv;
  const fraction = zero - Math.floor(zero);
  const partner = { re: byEnergy(seen, zero, size), im: byEnergy(unseen, zero, size) };
  fourier(partner);
  // Sharing a count between two channels widens it by fraction (1 - fraction) channels squared: that goes with the noise.
  const noise = noiseEv / FWHM_PER_SIGMA / axis.gainEv;
  const variance = noise > 0 ? noise * noise + fraction * (1 - fraction) : 0;
  const out = { re: new Float64Array(size), im: new Float64Array(size) };
  for (let k = 0; k <= size / 2; k++) {
    const m = (size - k) % size;
    const q = variance * (2 - 2 * cos((2 * Math.PI * k) / size));
    // The inverse of a Gaussian to fourth order; as differences of neighbours it stays local.
    const sharpen = 1 + q / 2 + (q * q) / 8;
    const s = half(first, k, m);
    const p = half(partner, k, m);
    const [pr, pi, qr, qi] = [p[0] * sharpen, p[1] * sharpen, p[2] * sharpen, p[3] * sharpen];
    const [ar, ai] = expm1(time.fast * pr + time.slow * qr, time.fast * pi + time.slow * qi);
    const [br, bi] = expm1(time.slow * (pr + qr), time.slow * (pi + qi));
    out.re[k] = alone.seen * (s[0] * ar - s[1] * ai) + alone.unseen * (s[2] * br - s[3] * bi);
    out.im[k] = alone.seen * (s[0] * ai + s[1] * ar) + alone.unseen * (s[2] * bi + s[3] * br);
    [out.re[m], out.im[m]] = [out.re[k], k === m ? out.im[k] : -out.im[k]];
  }
  fourier(out, true);
  return out.re;
}

/** Transforms of the real and of the imaginary input at k, of what was transformed together. @param m minus k */
function half({ re, im }: Complex, k: number, m: number): [number, number, number, number] {
  return [(re[k] + re[m]) / 2, (im[k] - im[m]) / 2, (im[k] + im[m]) / 2, (re[m] - re[k]) / 2];
}

function expm1(re: number, im: number): [number, number] {
  const size = exp(re);
  return [size * cos(im) - 1, size * sin(im)];
}

function padded(values: Float64Array, size: number): Float64Array {
  const out = new Float64Array(size);
  out.set(values);
  return out;
}

/** Counts by energy in channels, energies below 0 at the far end; shared between the two places next to them. */
function byEnergy(values: Float64Array, zero: number, size: number): Float64Array {
  const out = new Float64Array(size);
  const whole = Math.floor(-zero);
  const upper = -zero - whole;
  for (let i = 0; i < values.length; i++) {
    const at = i + whole;
    out[wrapped(at, size)] += (1 - upper) * values[i];
    out[wrapped(at + 1, size)] += upper * values[i];
  }
  return out;
}

const wrapped = (place: number, size: number): number => ((place % size) + size) % size;

const sum = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);

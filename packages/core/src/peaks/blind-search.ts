import { gsd } from 'ml-gsd';
import { FWHM_PER_SIGMA } from '../detector/resolution.ts';
import { GAUSSIAN_FWHM_TO_AREA } from './shape.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';

/** A peak of the counts alone, no element in mind. */
export interface BlindPeak {
  readonly energyEv: number;
  readonly energySigmaEv: number;
  readonly fwhmEv: number;
  readonly counts: number;
  readonly sigma: number;
}

/** A peak counts when its filtered area exceeds this many standard deviations; about 1 false in 4,000 places looked at. */
const SIGNIFICANT = 3.5;

/** Tops are told to this part of a channel: engines differ in the last digits of the logarithms that they come from. */
const PLACES = 1000;

/**
 * Blind peak search. Counts are variance-stabilised (2√(n + 3/8), Anscombe 1948) so that one threshold serves the whole
 * spectrum, `ml-gsd` finds maxima with that threshold as noise level, and each is kept only if a top-hat filter of the
 * detector's width says that it stands above its surroundings by more than counting noise.
 * @param fwhm detector resolution at an energy, eV
 */
export function findPeaks(
  counts: Float64Array,
  axis: EnergyAxis,
  range: { readonly lo: number; readonly hi: number },
  fwhm: (energyEv: number) => number,
): BlindPeak[] {
  // Of channels, not of energies: their distance of 1 to whatever power is the same on every engine.
  const x = new Float64Array(range.hi - range.lo);
  const y = new Float64Array(x.length);
  for (let i = 0; i < x.length; i++) {
    x[i] = range.lo + i;
    y[i] = 2 * Math.sqrt(counts[range.lo + i] + 3 / 8);
  }
  if (x.length === 0) return [];
  const middle = fwhm((energyAt(axis, range.lo) + Math.min(energyAt(axis, range.hi - 1), 4000)) / 2) / axis.gainEv;
  const windowSize = Math.max(5, 2 * Math.round(middle * 0.45) + 1);
  if (x.length <= windowSize) return [];
  const found = gsd(
    { x, y },
    {
      sgOptions: { windowSize, polynomial: 3, derivative: 0 },
      noiseLevel: 0,
      minMaxRatio: 0,
      realTopDetection: true,
      smoothY: false,
      peakDetectionAlgorithm: 'second',
    },
  );
  const peaks: BlindPeak[] = [];
  for (const { x: top } of found) {
    const energyEv = energyAt(axis, Math.round(top * PLACES) / PLACES);
    const width = fwhm(energyEv);
    const filtered = topHat(counts, axis, energyEv, width);
    if (filtered && filtered.net > SIGNIFICANT * filtered.sigma) peaks.push(blindPeak(energyEv, width, filtered));
  }
  return mergeClose(peaks);
}

const energyAt = (axis: EnergyAxis, channel: number): number => axis.offsetEv + axis.gainEv * channel;

function blindPeak(energyEv: number, fwhmEv: number, { net, sigma }: { net: number; sigma: number }): BlindPeak {
  const counts = net * GAUSSIAN_FWHM_TO_AREA;
  const areaSigma = sigma * GAUSSIAN_FWHM_TO_AREA;
  return {
    energyEv,
    fwhmEv,
    counts,
    sigma: areaSigma,
    energySigmaEv: ((fwhmEv / FWHM_PER_SIGMA) * areaSigma) / Math.max(counts, 1),
  };
}

/** Net counts in one FWHM around an energy, over the mean of half a FWHM on each side; null at the spectrum's ends. */
function topHat(
  counts: Float64Array,
  axis: EnergyAxis,
  energyEv: number,
  width: number,
): { net: number; sigma: number } | null {
  const centre = Math.round((energyEv - axis.offsetEv) / axis.gainEv);
  const half = Math.max(1, Math.round(width / axis.gainEv / 2));
  const side = Math.max(1, half);
  if (centre - half - side < 0 || centre + half + side >= counts.length) return null;
  let core = 0;
  let wings = 0;
  for (let i = centre - half; i <= centre + half; i++) core += counts[i];
  for (let k = 1; k <= side; k++) wings += counts[centre - half - k] + counts[centre + half + k];
  const ratio = (2 * half + 1) / (2 * side);
  return { net: core - ratio * wings, sigma: Math.sqrt(core + ratio * ratio * wings + 1) };
}

/** Of maxima closer than half a FWHM only the more significant stays. */
function mergeClose(peaks: readonly BlindPeak[]): BlindPeak[] {
  const kept: BlindPeak[] = [];
  for (const peak of [...peaks].sort(surestFirst)) if (!isCloseToAny(kept, peak)) kept.push(peak);
  return kept.sort(softestFirst);
}

const surestFirst = (a: BlindPeak, b: BlindPeak): number => b.counts / b.sigma - a.counts / a.sigma;
const softestFirst = (a: BlindPeak, b: BlindPeak): number => a.energyEv - b.energyEv;

function isCloseToAny(kept: readonly BlindPeak[], { energyEv, fwhmEv }: BlindPeak): boolean {
  for (const other of kept) if (!(Math.abs(other.energyEv - energyEv) > 0.5 * fwhmEv)) return true;
  return false;
}

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
  const energyAt = (channel: number): number => axis.offsetEv + axis.gainEv * channel;
  // Of channels, not of energies: their distance of 1 to whatever power is the same on every engine.
  const x = Float64Array.from({ length: range.hi - range.lo }, (_, i) => range.lo + i);
  const y = Float64Array.from(x, (channel) => 2 * Math.sqrt(counts[channel] + 3 / 8));
  if (x.length === 0) return [];
  const middle = fwhm((energyAt(range.lo) + Math.min(energyAt(range.hi - 1), 4000)) / 2) / axis.gainEv;
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
  const peaks = found.flatMap(({ x: top }) => {
    const energyEv = energyAt(Math.round(top * PLACES) / PLACES);
    const width = fwhm(energyEv);
    const filtered = topHat(counts, axis, energyEv, width);
    return filtered && filtered.net > SIGNIFICANT * filtered.sigma ? [blindPeak(energyEv, width, filtered)] : [];
  });
  return mergeClose(peaks);
}

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
  for (const peak of [...peaks].sort((a, b) => b.counts / b.sigma - a.counts / a.sigma)) {
    if (kept.every((other) => Math.abs(other.energyEv - peak.energyEv) > 0.5 * peak.fwhmEv)) kept.push(peak);
  }
  return kept.sort((a, b) => a.energyEv - b.energyEv);
}

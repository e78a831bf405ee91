import { sumOver } from '../arithmetic/sum.ts';
import { log } from '../arithmetic/exponential.ts';
import type { Column } from '../model/column.ts';
import { putCashMoments } from './cash.ts';
import { erfc } from '../detector/error-function.ts';
import type { Scene } from './expansion.ts';
import type { SpectrumFit } from './spectrum-fit.ts';

/** How far counts lie from a fitted model, and how far they should were it true. */
export interface Misfit {
  /** Cash statistic. */
  readonly c: number;
  /** Its expectation and variance, fitted parameters allowed for. */
  readonly expected: number;
  readonly variance: number;
}

/** A stretch of the spectrum, eV. */
export interface Region extends Misfit {
  readonly fromEv: number;
  readonly toEv: number;
}

/** Statistic of each channel of a fit, and its moments under the model. */
export interface ChannelMisfit {
  readonly c: Float64Array;
  readonly mean: Float64Array;
  readonly variance: Float64Array;
}

export function channelMisfit({ counts, range: { lo, hi } }: Scene, expected: Float64Array): ChannelMisfit {
  const c = new Float64Array(counts.length);
  const mean = new Float64Array(counts.length);
  const variance = new Float64Array(counts.length);
  putCashMoments(mean, variance, expected, lo, hi);
  for (let i = lo; i < hi; i++) {
    const [n, m] = [counts[i], expected[i]];
    c[i] = 2 * (n > 0 ? m - n + n * log(n / m) : m);
  }
  return { c, mean, variance };
}

/**
 * Misfit of the whole fitted range. Each parameter that the counts determine takes one off the expectation and two off the
 * variance, as for chi-square.
 */
export function misfitOf({ range: { lo, hi } }: Scene, { fit }: SpectrumFit, channels: ChannelMisfit): Misfit {
  const { c, expected, variance } = summed(channels, lo, hi);
  const parameters = fit.effectiveParameters;
  return { c, expected: expected - parameters, variance: Math.max(1, variance - 2 * parameters) };
}

/** From this many times its expectation C says that the model, not the counting, limits: told, and other axes are tried. */
export const POOR_MISFIT = 1.6;

/** Probability of a misfit at least this large were the model true; the sum over many channels is near normal. */
export function pValueOf({ c, expected, variance }: Misfit): number {
  return 0.5 * erfc((c - expected) / Math.sqrt(2 * variance));
}

/** Ends of the regions, eV. */
const REGION_ENDS = [500, 1000, 2000, 4000, 8000, Infinity];

/** Misfit by region; expectations without regard to parameters, whose share of a region is not known. */
export function regionsOf({ range: { lo, hi } }: Scene, { at }: SpectrumFit, channels: ChannelMisfit): Region[] {
  const { offsetEv, gainEv } = at.instrument.axis;
  const regions: Region[] = [];
  let from = lo;
  for (const end of REGION_ENDS) {
    const to = Math.min(hi, Math.max(from, Math.ceil((end - offsetEv) / gainEv)));
    if (to > from) {
      regions.push({
        fromEv: offsetEv + gainEv * from,
        toEv: offsetEv + gainEv * (to - 1),
        ...summed(channels, from, to),
      });
    }
    from = to;
  }
  return regions;
}

function summed({ c, mean, variance }: ChannelMisfit, from: number, to: number): Misfit {
  return { c: sumOver(c, from, to), expected: sumOver(mean, from, to), variance: sumOver(variance, from, to) };
}

/** Chance scatter of a local misfit that is left to chance, standard deviations. */
const BY_CHANCE = 2;

/**
 * Factor on an amount's standard deviation where the model, not the counting, limits: the misfit under its lines, each channel
 * weighed by what it says about the amount, less what chance may do; at least 1.
 * @param expected expected counts per channel
 */
export function inflationUnder(column: Column, channels: ChannelMisfit, expected: Float64Array, scene: Scene): number {
  const { lo, hi } = scene.range;
  let [weight, found, wanted, chance] = [0, 0, 0, 0];
  const { values, lo: first, runs } = column;
  for (let r = 0; r < runs.length; r += 2) {
    for (let i = Math.max(lo, runs[r]); i < Math.min(hi, runs[r + 1]); i++) {
      const own = (values[i - first] * values[i - first]) / expected[i];
      weight += own;
      found += own * channels.c[i];
      wanted += own * channels.mean[i];
      chance += own * own * channels.variance[i];
    }
  }
  if (!(weight > 0)) return 1;
  return Math.sqrt(Math.max(1, (found - BY_CHANCE * Math.sqrt(chance)) / wanted));
}

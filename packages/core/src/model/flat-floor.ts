import { sumOver } from '../arithmetic/sum.ts';
import { columnOf, type Column } from './column.ts';

/** Channels beyond the range that must be there before they tell of a floor. */
const LEAST_CHANNELS = 8;
/** Counts per channel below which a floor does not matter. */
const LEAST_LEVEL = 0.5;

/** A floor as high as what is recorded above the beam energy, with that height, counts per channel. */
export interface FlatFloor {
  readonly column: Column;
  readonly level: number;
}

/**
 * Counts that do not come from photons lie at one level over the whole axis. No photon has more energy than the beam, so the counts
 * beyond it (sums of photons lie there too) tell how high such a floor can be; null where there are none.
 * @param lo,hi the fitted range   @param beyond first channel above the beam energy
 */
export function flatFloor(counts: Float64Array, lo: number, hi: number, beyond: number): FlatFloor | null {
  const channels = counts.length - beyond;
  if (channels < LEAST_CHANNELS) return null;
  const level = sumOver(counts, beyond) / channels;
  if (level < LEAST_LEVEL) return null;
  return { column: columnOf(new Float64Array(counts.length).fill(1, lo, hi)), level };
}

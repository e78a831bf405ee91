import type { EnergyAxis } from './spectrum.ts';

/** A peak at a channel, and the energy of what is known to stand there. */
export interface KnownPeak {
  /** May lie between two channels. */
  readonly channel: number;
  readonly energyEv: number;
}

/** Channels searched on both sides of where a peak was pointed at. */
const REACH = 8;

/**
 * The centre of the peak nearest to a channel: the highest channel within reach, then the centroid of its upper half.
 * @returns a channel, to a fraction of one; the given one where there are no counts
 */
export function peakCentre(counts: ArrayLike<number>, near: number): number {
  const last = counts.length - 1;
  const at = (i: number): number => counts[Math.min(last, Math.max(0, i))];
  let top = Math.min(last, Math.max(0, Math.round(near)));
  for (let i = top - REACH, end = top + REACH; i <= end; i++) if (at(i) > at(top)) top = Math.min(last, Math.max(0, i));
  const half = at(top) / 2;
  let [from, to] = [top, top];
  while (from > 0 && at(from - 1) >= half && top - from < REACH) from--;
  while (to < last && at(to + 1) >= half && to - top < REACH) to++;
  let [sum, moment] = [0, 0];
  for (let i = from; i <= to; i++) {
    sum += at(i);
    moment += at(i) * i;
  }
  return sum > 0 ? moment / sum : near;
}

/**
 * The axis on which two known peaks stand at their energies: a straight line through both.
 * @throws RangeError for peaks that fix no axis: at the same channel, or with the higher energy at the lower one
 */
export function axisThrough(a: KnownPeak, b: KnownPeak): EnergyAxis {
  const gainEv = (b.energyEv - a.energyEv) / (b.channel - a.channel);
  if (!Number.isFinite(gainEv) || gainEv <= 0)
    throw new RangeError('These two peaks do not define an axis: the higher energy must be at the higher channel.');
  return { gainEv, offsetEv: a.energyEv - gainEv * a.channel };
}

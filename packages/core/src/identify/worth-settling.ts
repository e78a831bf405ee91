import type { EnergyAxis } from '../spectrum/spectrum.ts';

// Which of many axes are looked at again, and which are followed to their end: those that explain the counts best in coarse rounds.

/** Of all that are tried, so many are looked at again, none so many times worse than the best. */
const WORTH_A_SECOND_ROUND = 6;
const FAR_WORSE = 10;
/** Of these, so many are followed to their end, and of gains that lie so close together the best one: they settle alike. */
const WORTH_SETTLING = 3;
const CLOSE_GAIN = 0.02;

/** How badly something explains the counts: chi-square, the odds of its axis and elements counted. */
interface Judged {
  readonly badness: number;
}

const byBadness = (a: Judged, b: Judged): number => a.badness - b.badness;

export function worthASecondRound<T extends Judged>(tried: readonly T[]): T[] {
  const sorted = [...tried].sort(byBadness);
  return sorted.slice(0, WORTH_A_SECOND_ROUND).filter(({ badness }) => badness < FAR_WORSE * sorted[0].badness);
}

/** @param toBeat badness of the stated axis */
export function worthSettling(
  tried: readonly (Judged & { readonly axis: EnergyAxis })[],
  toBeat: number,
): EnergyAxis[] {
  return tried
    .filter(({ badness }) => badness < toBeat)
    .sort(byBadness)
    .map(({ axis }) => axis)
    .filter((axis, k, all) => !all.slice(0, k).some((better) => Math.abs(axis.gainEv / better.gainEv - 1) < CLOSE_GAIN))
    .slice(0, WORTH_SETTLING);
}

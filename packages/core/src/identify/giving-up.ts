import { chiSquareUnder, type Frame, type Round } from './state.ts';

// When a settling is given up before its rounds repeat.

/** Windows of glasses in doubt were 23 to 60 apart once annealed, and at their end no nearer than that (measured, six spectra). */
const BEATEN = 20;

/** Whether another explanation of the same counts is so much better that this one comes nowhere near it. */
export const isBeaten = ({ toBeat = Infinity }: Frame, { merit }: Round): boolean => merit > toBeat + BEATEN;

/**
 * Chi-square per channel, under the error granted to the model, from which the axis is doubted before anything else: after the first round,
 * and after later ones. On 71 spectra, measured and simulated, with their right axis it was 10 and 1.1 at most.
 */
const FAR_OFF = { first: 20, later: 2 };

/** @param rounds how many there were */
export function isFarOff(frame: Frame, round: Round, relativeError: number, rounds: number): boolean {
  const most = rounds === 1 ? FAR_OFF.first : FAR_OFF.later;
  return chiSquareUnder(frame, round, relativeError) > most * (frame.range.hi - frame.range.lo);
}

/**
 * Whether two sets have followed each other twice, the last time without any error granted: they would do so for ever.
 * @param sets of each round   @param annealing rounds that an error was granted in
 */
export function takesTurns(sets: readonly string[], annealing: number): boolean {
  const [a, b, c, d] = sets.slice(-4);
  return sets.length >= annealing + 3 && a === c && b === d && c !== d;
}

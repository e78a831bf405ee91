import type { Detector } from '../detector/detector.ts';
import { axisStrain, strainedAxis, type StatedInstrument } from '../fit/instrument-prior.ts';
import { POOR_MISFIT } from '../fit/quality.ts';
import { firstStart } from './first-start.ts';
import { settle, type Settled } from './converge.ts';
import { solveRound } from './round.ts';
import { isHopeless, type Frame } from './state.ts';

/** An axis this many prior standard deviations from the stated one may have locked on wrong lines, and so may a poor fit. */
const SUSPECT_STRAIN = 2;
/** Other axes to start from, in prior standard deviations of offset and gain. */
const OTHER_STARTS: readonly (readonly [number, number])[] = [
  [2, 0],
  [-2, 0],
  [2, 1.5],
  [2, -1.5],
  [-2, 1.5],
  [-2, -1.5],
];
/** Of these, so many are followed to their end. */
const WORTH_SETTLING = 3;
/** A hopeless fit's other axes are followed only where they begin below this part of its misfit. */
const WELL_BELOW = 0.5;
/** Relative model error under which the starts are compared: axes are still far off. */
const COARSE = 0.05;

/**
 * Settles an explanation from the stated axis; where it ended far from that axis or fits badly, also from the best few of
 * some axes around it, and keeps what explains the counts better. An axis off by more than a line's width has more than one
 * place where every peak finds some line.
 */
export function settleAxis(
  frame: Frame,
  candidates: readonly number[],
  stated: StatedInstrument,
  detector: Detector,
): Settled {
  const usual = settle(frame, candidates, firstStart(frame, stated, detector), stated);
  if (usual.givenUp || frame.work?.isSpent || !isSuspect(frame, usual, stated)) return usual;
  const hopeless = isHopeless(frame, usual.round);
  const starts = OTHER_STARTS.map(([offset, gain]) => {
    const start = firstStart(frame, stated, detector, strainedAxis(stated.axis, offset, gain));
    return { start, merit: solveRound(frame, candidates, { ...start, hopeless, relativeError: COARSE }).merit };
  });
  starts.sort((a, b) => a.merit - b.merit);
  // Counts that no axis makes look like a spectrum are not worth the time.
  const worth = hopeless ? starts.filter(({ merit }) => merit < WELL_BELOW * usual.round.merit) : starts;
  return worth.slice(0, WORTH_SETTLING).reduce((best, { start }) => {
    const other = settle(frame, candidates, start, stated);
    return other.round.merit < best.round.merit ? other : best;
  }, usual);
}

function isSuspect({ range }: Frame, { round }: Settled, stated: StatedInstrument): boolean {
  const strained = axisStrain(stated.axis, round.instrument.axis) > SUSPECT_STRAIN;
  return strained || round.c > POOR_MISFIT * (range.hi - range.lo);
}

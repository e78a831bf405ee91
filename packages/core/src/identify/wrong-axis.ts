import { cash, expectedCash } from '../fit/cash.ts';
import { countsWithin } from '../model/column.ts';
import { axisStrain } from '../fit/instrument-prior.ts';
import type { EnergyAxis, Spectrum } from '../spectrum/spectrum.ts';
import { movedTrial, triedAxis, trialGround, type Trial } from './axis-trials.ts';
import { priorPenalty } from './candidates.ts';
import { settledContender, type Contender, type ExplainConditions } from './contender.ts';
import { partedAxis } from './merged.ts';
import { otherAxes, penaltyOf } from './other-axes.ts';
import type { Frame } from './state.ts';
import { worthASecondRound, worthSettling } from './worth-settling.ts';

/**
 * stated: the axis of the file holds. corrected: it was wrong, and another one far from it explains the counts; doubtful: the counts
 * ask for an axis that its statement does not allow, or none was found on which they look like a spectrum.
 */
export type AxisStanding = 'stated' | 'corrected' | 'doubtful';

/** Beyond so many standard deviations of offset and gain an axis has left its statement. */
const BEYOND_PRIOR = 3;
/** Strain of the axis and what is left beyond counting noise, both in standard deviations, together: the axis may be wrong. */
const SUSPECT = 2;
/** Prior penalty of an element that seldom is the main one of a grain: its neighbour on another axis may be meant. */
const SELDOM_MAIN = 12;
/** An axis far from its statement is believed up to this misfit. */
const BELIEVED_MISFIT = 1.25;

/** A spectrum settled on its stated axis or, where another one explains the counts better, on that. */
export function settledOnRightAxis(spectrum: Spectrum, conditions: ExplainConditions): Contender {
  // What a session knows of its instrument is not doubted here; and without some of its elements a spectrum fits badly on any axis.
  if (conditions.instrument || (conditions.without ?? []).length > 0) return settledContender(spectrum, conditions);
  const usual = settledContender(spectrum, { ...conditions, brief: true });
  const chosen = isSuspect(spectrum.axis, usual) ? betterAxis(spectrum, conditions, usual) : usual;
  if (!usual.settled.givenUp) return chosen;
  if (chosen === usual) return settledContender(spectrum, conditions);
  const stated = followedToItsEnd(spectrum, conditions);
  return stated && fits(spectrum.axis, stated) && !explainsBetter(spectrum.axis, chosen, stated) ? stated : chosen;
}

/** Work for following a stated axis that looked wrong, and what must be left for the rest of the reading, multiplications (see Work). */
const STATED_WORK = 5e9;
const REST_WORK = 4e9;
/** Work for each further axis once one explains the counts better than the stated one. */
const OTHER_WORK = 2e9;

/**
 * The stated axis settled without giving up early, lest another one take its place too soon: Pt with Zr at 10 keV looks like no spectrum
 * for six rounds. Null where that would cost too much.
 */
function followedToItsEnd(spectrum: Spectrum, conditions: ExplainConditions): Contender | null {
  const left = conditions.work?.left ?? Infinity;
  return settledWithin(Math.min(STATED_WORK, left - REST_WORK), spectrum, conditions);
}

/** A spectrum settled for no more than so much work; null where that is not enough. */
function settledWithin(most: number, spectrum: Spectrum, conditions: ExplainConditions): Contender | null {
  const work = conditions.work?.part(most);
  if (work?.isSpent) return null;
  const contender = settledContender(spectrum, { ...conditions, work });
  if (work?.isSpent) return null;
  // What follows may spend all that is left.
  const freed = (frame: Frame): Frame => ({ ...frame, work: conditions.work });
  const { frame, whole } = contender;
  return { ...contender, frame: freed(frame), whole: { ...whole, frame: freed(whole.frame) } };
}

/** The one, if any, on another axis that explains the counts better. */
function betterAxis(spectrum: Spectrum, conditions: ExplainConditions, usual: Contender): Contender {
  let chosen = usual;
  for (const other of axesWorthSettling(spectrum, conditions, usual)) {
    if (conditions.work?.isSpent) break;
    const most = chosen === usual ? Infinity : OTHER_WORK;
    const { merging } = usual;
    const contender = settledWithin(most, { ...spectrum, axis: other }, { ...conditions, merging, brief: true });
    if (!contender || contender.settled.givenUp) continue;
    const penalty =
      penaltyOf(spectrum.axis, axisOf(contender)) - (chosen === usual ? 0 : penaltyOf(spectrum.axis, axisOf(chosen)));
    if (strain(other, contender) < BEYOND_PRIOR && meritGain(chosen, contender) > penalty) chosen = contender;
  }
  return chosen;
}

/** Whether one on another axis explains the counts better than one on the stated axis, the odds of a wrong axis counted. */
const explainsBetter = (stated: EnergyAxis, other: Contender, usual: Contender): boolean =>
  meritGain(usual, other) > penaltyOf(stated, axisOf(other));

/** Whether counts and axis are what counting noise and the statement of the axis allow. */
const fits = (stated: EnergyAxis, contender: Contender): boolean =>
  Math.hypot(strain(stated, contender), Math.max(0, excess(contender))) <= SUSPECT;

function isSuspect(stated: EnergyAxis, usual: Contender): boolean {
  const { frame, candidates } = usual;
  if (!fits(stated, usual)) return true;
  const main = mainElement(usual);
  return main !== null && Math.min(frame.penalty[main], priorPenalty(candidates[main])) >= SELDOM_MAIN;
}

/** Index of the element with the most counts. */
function mainElement({ frame, settled: { round } }: Contender): number | null {
  const { templates } = round.design.layout;
  let [main, most]: [number | null, number] = [null, 0];
  for (let e = 0; e < templates.length; e++) {
    const counts = round.hypothesis.x[e] * countsWithin(templates[e].column, frame.range);
    if (counts > most) [main, most] = [e, counts];
  }
  return main;
}

/** Parameters that every round determines beside its elements' amounts: about so many splines, and the instrument's four. */
const PARAMETERS = 14;

/** What is left beyond counting noise, standard deviations of the Cash statistic. */
function excess({ frame, settled: { round } }: Contender): number {
  const { mean, variance } = expectedCash(round.model, frame.range.lo, frame.range.hi);
  return (round.c - mean + PARAMETERS + round.hypothesis.members.length) / Math.sqrt(variance);
}

/**
 * How a settled axis stands to the stated one.
 * @param misfit of the final fit, C over its expectation
 * @param converged whether that fit came to rest: one that did not proves no other axis
 */
export function axisStanding(
  stated: EnergyAxis,
  settled: EnergyAxis,
  misfit: number,
  converged: boolean,
): AxisStanding {
  if (axisStrain(stated, settled) <= BEYOND_PRIOR) return 'stated';
  return converged && misfit < BELIEVED_MISFIT ? 'corrected' : 'doubtful';
}

const axisOf = ({ settled, merging }: Contender): EnergyAxis => partedAxis(settled.round.instrument.axis, merging);

const strain = (axis: EnergyAxis, contender: Contender): number => axisStrain(axis, axisOf(contender));

/** By how much one contender explains the channels that both fit better than another, prior odds and doubts counted. */
function meritGain(a: Contender, b: Contender): number {
  const lo = Math.max(a.frame.range.lo, b.frame.range.lo);
  const hi = Math.min(a.frame.range.hi, b.frame.range.hi);
  const merit = ({ frame: { counts }, settled: { round } }: Contender): number =>
    round.merit - round.c + cash(counts, round.model, lo, hi);
  return merit(a) - merit(b);
}

/** The axes that explain the counts best in trials: all of a wide grid in one each; the better part again, free to move from there. */
function axesWorthSettling(spectrum: Spectrum, conditions: ExplainConditions, usual: Contender): EnergyAxis[] {
  const { work } = conditions;
  const ground = trialGround(spectrum, conditions, usual.thickWindow ? usual.detector : {});
  // The stated axis, as it settled, is what the others must beat; what lies within its statement would settle as it did.
  const settled = usual.settled.givenUp ? null : axisOf(usual);
  const reference = settled && triedAxis(ground, settled);
  const toBeat = reference ? movedTrial(ground, reference).badness : Infinity;
  const tried: Trial[] = [];
  for (const axis of otherAxes(spectrum.axis)) {
    if (work?.isSpent) break;
    const trial = penaltyOf(spectrum.axis, axis) < toBeat ? triedAxis(ground, axis) : null;
    if (trial) tried.push(trial);
  }
  const moved = worthASecondRound(tried).map((first) => (work?.isSpent ? first : movedTrial(ground, first)));
  const others = moved.filter(({ axis }) => !settled || axisStrain(settled, axis) > BEYOND_PRIOR);
  return worthSettling(others, toBeat);
}

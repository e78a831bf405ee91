import { cash, expectedCash } from '../fit/cash.ts';
import { NotPositiveDefiniteError } from '../fit/cholesky.ts';
import { axisStrain } from '../fit/instrument-prior.ts';
import type { EnergyAxis, Spectrum } from '../spectrum/spectrum.ts';
import { opened, settledContender, type Contender, type ExplainConditions, type Opened } from './contender.ts';
import { nextStart } from './converge.ts';
import { firstStart } from './first-start.ts';
import { solveRound, type RoundStart } from './round.ts';
import type { Round } from './state.ts';

/**
 * stated: the axis of the file holds. corrected: it was wrong, and another one far from it explains the counts; doubtful: the counts
 * ask for an axis that its statement does not allow, or none was found on which they look like a spectrum.
 */
export type AxisStanding = 'stated' | 'corrected' | 'doubtful';

/** Beyond so many standard deviations of offset and gain an axis has left its statement ... */
const BEYOND_PRIOR = 3;
/** ... and with this much more left than counting noise (standard deviations of chi-square) the axis may be why. */
const MORE_THAN_NOISE = 2;
/** An axis far from its statement is believed up to this misfit. */
const SUSPECT_MISFIT = 1.25;
/** Axes that are tried: a line's width apart at 10 keV and at 0, up to 6 % and 120 eV from the stated one. */
const GAIN_STEPS = 8;
const GAIN_STEP = 0.0075;
const OFFSET_STEPS = 2;
const OFFSET_STEP_EV = 50;
/** Of these, so many are followed to their end. */
const WORTH_A_SECOND_ROUND = 12;
const WORTH_SETTLING = 2;
/**
 * One file in some thousand states a wrong axis, and there are many wrong ones to choose from: -2 ln of the odds, for one near the stated
 * axis. The further it lies, the less likely it is; a spectrum with one strong line has another axis for every place of that line.
 */
const WRONG_AXIS_PENALTY = 30;
const FURTHER_PENALTY = 10;
/** Steps of gain (relative) and of offset, eV, that make it as much less likely. */
const FURTHER_GAIN = 0.01;
const FURTHER_OFFSET_EV = 50;
/** Relative model error under which axes are compared, and the energy from which: below, noise and zero peak may lie. */
const COARSE = 0.1;
const COMPARED_FROM_EV = 400;

/** The contender itself where its axis holds; otherwise the one, if any, on another axis that explains the counts better. */
export function onRightAxis(spectrum: Spectrum, conditions: ExplainConditions, usual: Contender): Contender {
  // What a session knows of its instrument is not doubted here; and without some of its elements a spectrum fits badly on any axis.
  if (conditions.instrument || (conditions.without ?? []).length > 0) return usual;
  if (conditions.work?.isSpent || !isSuspect(spectrum.axis, usual)) return usual;
  let chosen = usual;
  for (const other of axesWorthSettling(spectrum, conditions, usual)) {
    if (conditions.work?.isSpent) break;
    const contender = settledContender({ ...spectrum, axis: other }, conditions);
    const penalty = penaltyOf(spectrum.axis, contender) - (chosen === usual ? 0 : penaltyOf(spectrum.axis, chosen));
    if (strain(other, contender) < BEYOND_PRIOR && meritGain(chosen, contender) > penalty) chosen = contender;
  }
  return chosen;
}

function isSuspect(stated: EnergyAxis, usual: Contender): boolean {
  return strain(stated, usual) > BEYOND_PRIOR || excess(usual) > MORE_THAN_NOISE;
}

/** Parameters that every round determines beside its elements' amounts: about so many splines, and the instrument's four. */
const PARAMETERS = 14;

/** -2 ln of the odds that an axis so far from the stated one is the right one. */
function penaltyOf(stated: EnergyAxis, { settled }: Contender): number {
  const { axis } = settled.round.instrument;
  const gain = (axis.gainEv / stated.gainEv - 1) / FURTHER_GAIN;
  const offset = (axis.offsetEv - stated.offsetEv) / FURTHER_OFFSET_EV;
  return WRONG_AXIS_PENALTY + FURTHER_PENALTY * (gain * gain + offset * offset);
}

/** What is left beyond counting noise, standard deviations of the Cash statistic. */
function excess({ frame, settled: { round } }: Contender): number {
  const { mean, variance } = expectedCash(round.model, frame.range.lo, frame.range.hi);
  return (round.c - mean + PARAMETERS + round.hypothesis.members.length) / Math.sqrt(variance);
}

/** How a settled axis stands to the stated one. @param misfit of the final fit, C over its expectation */
export function axisStanding(stated: EnergyAxis, settled: EnergyAxis, misfit: number): AxisStanding {
  if (axisStrain(stated, settled) <= BEYOND_PRIOR) return 'stated';
  return misfit < SUSPECT_MISFIT ? 'corrected' : 'doubtful';
}

const strain = (axis: EnergyAxis, { settled }: Contender): number => axisStrain(axis, settled.round.instrument.axis);

/** By how much one contender explains the channels that both fit better than another, prior odds and doubts counted. */
function meritGain(a: Contender, b: Contender): number {
  const lo = Math.max(a.frame.range.lo, b.frame.range.lo);
  const hi = Math.min(a.frame.range.hi, b.frame.range.hi);
  const merit = ({ frame: { counts }, settled: { round } }: Contender): number =>
    round.merit - round.c + cash(counts, round.model, lo, hi);
  return merit(a) - merit(b);
}

/** An axis tried, where a coarse round on it stands, and how badly that explains the counts. */
interface Tried {
  readonly opened: Opened;
  readonly start: RoundStart;
  readonly round: Round;
  readonly badness: number;
}

/**
 * The axes that explain the counts best in coarse rounds: all of a wide grid in one each; the better part again, with axis and
 * resolution free to move from there.
 */
function axesWorthSettling(spectrum: Spectrum, conditions: ExplainConditions, usual: Contender): EnergyAxis[] {
  const window = usual.thickWindow ? usual.detector : {};
  // The same channels for all: from where the stated axis is above noise and zero peak, however it is moved.
  const lo = Math.max(0, Math.ceil((COMPARED_FROM_EV - spectrum.axis.offsetEv) / spectrum.axis.gainEv));
  const attempt = (axis: EnergyAxis): Tried | null => {
    const at = opened({ ...spectrum, axis }, conditions, true, window);
    const frame = { ...at.frame, range: { ...at.frame.range, lo } };
    const start = { ...firstStart(frame, at.stated, at.detector), hopeless: true, relativeError: COARSE };
    return coarsely({ ...at, frame }, start);
  };
  const tried: Tried[] = [];
  for (let g = -GAIN_STEPS; g <= GAIN_STEPS; g++) {
    for (let o = -OFFSET_STEPS; o <= OFFSET_STEPS && !conditions.work?.isSpent; o++) {
      const { offsetEv, gainEv } = spectrum.axis;
      const axis = { gainEv: gainEv * (1 + g * GAIN_STEP), offsetEv: offsetEv + o * OFFSET_STEP_EV };
      const result = attempt(axis);
      if (result) tried.push(result);
    }
  }
  const again = ({ opened: at, start, round }: Tried): Tried =>
    coarsely(at, { ...nextStart(start, round, at.stated), relativeError: COARSE }) ?? {
      opened: at,
      start,
      round,
      badness: Infinity,
    };
  // The stated axis, as it settled, is what the others must beat.
  const reference = attempt(usual.settled.round.instrument.axis);
  const toBeat = reference ? again(again(reference)).badness : Infinity;
  return best(tried, WORTH_A_SECOND_ROUND)
    .map((first) => (conditions.work?.isSpent ? first : again(again(first))))
    .filter(({ badness }) => badness < toBeat)
    .sort((a, b) => a.badness - b.badness)
    .slice(0, WORTH_SETTLING)
    .map(({ round }) => round.instrument.axis);
}

const best = (tried: readonly Tried[], count: number): Tried[] =>
  [...tried].sort((a, b) => a.badness - b.badness).slice(0, count);

/**
 * A coarse round; its badness is chi-square under the coarse error, so that a small shift of a strong peak counts little. Null where the
 * counts are too unlike a spectrum on this axis for the algebra.
 */
function coarsely(at: Opened, start: RoundStart): Tried | null {
  const { frame, candidates } = at;
  let round: Round;
  try {
    round = solveRound(frame, candidates, start);
  } catch (error) {
    if (error instanceof NotPositiveDefiniteError) return null;
    throw error;
  }
  let badness = 0;
  for (const e of round.hypothesis.members) badness += frame.penalty[e];
  for (let i = frame.range.lo; i < frame.range.hi; i++) {
    const m = Math.max(round.model[i], 1);
    badness += (frame.counts[i] - m) ** 2 / (m + (COARSE * m) ** 2);
  }
  return { opened: at, start, round, badness };
}

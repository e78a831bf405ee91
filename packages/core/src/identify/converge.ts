import { sumOver } from '../arithmetic/sum.ts';
import { sumRateOf } from '../fit/design.ts';
import { groupHeights } from '../fit/heights.ts';
import { instrumentPrior, movedInstrument, type StatedInstrument } from '../fit/instrument-prior.ts';
import { correctedMatrix, foundIn } from '../fit/matrix-correction.ts';
import { levelOf } from '../fit/spectrum-fit.ts';
import { channelOf, type Instrument } from '../model/instrument.ts';
import { isBeaten, isFarOff, takesTurns } from './giving-up.ts';
import { solveRound, type RoundStart } from './round.ts';
import { isHopeless, type Frame, type Round } from './state.ts';

/** Relative model error granted in the first rounds, so that no wrong early choice is nailed down by huge counts. */
const ANNEALING = [0.05, 0.012];
const MAX_ROUNDS = 9;
/** Settled when a round asks the axis to move by less than this, eV; the fit that follows moves it to its place. */
const AXIS_TOLERANCE_EV = 2;
/** Followed on, up to so many, while a round explains the counts better than all before by this much (-2 ln of the odds). */
const MAX_IMPROVING_ROUNDS = 14;
const IMPROVING = 10;

/** The best round after the annealing. */
export interface Settled {
  readonly round: Round;
  /** What it started from. */
  readonly start: RoundStart;
  readonly rounds: number;
  /** The last rounds had the same set of elements and the same axis. */
  readonly converged: boolean;
  /** Given up before its end, as the counts looked like no spectrum on this axis, or as another explanation is far better. */
  readonly givenUp: boolean;
}

/** Goes through rounds until set, axis and composition repeat; the error granted to the model falls to 0 on the way. */
export function settle(
  frame: Frame,
  candidates: readonly number[],
  firstStart: RoundStart,
  stated: StatedInstrument,
): Settled {
  let start: RoundStart = { ...firstStart, relativeError: ANNEALING[0] };
  let round = solveRound(frame, candidates, start);
  let best: Settled = { round, start, rounds: 1, converged: false, givenUp: false };
  let competing = false;
  let improved = false;
  const sets = [round.hypothesis.members.join()];
  for (let rounds = 1; rounds < MAX_ROUNDS || (improved && rounds < MAX_IMPROVING_ROUNDS); rounds++) {
    if (frame.brief && isFarOff(frame, round, start.relativeError, rounds))
      return { ...best, round, start, givenUp: true };
    start = {
      ...nextStart(frame, start, round, stated),
      relativeError: ANNEALING[rounds] ?? 0,
      hopeless: rounds >= ANNEALING.length && isHopeless(frame, round),
    };
    const following = solveRound(frame, candidates, start);
    const steady = sameSet(round, following);
    round = following;
    const asked = axisMove(start.instrument, instrumentAfter(start, round), frame);
    const converged = rounds >= ANNEALING.length && steady && asked < AXIS_TOLERANCE_EV;
    improved = competing && round.merit < best.round.merit - IMPROVING;
    if (rounds >= ANNEALING.length && (!competing || round.merit <= best.round.merit + 1)) {
      best = { round, start, rounds: rounds + 1, converged, givenUp: false };
      competing = true;
    } else best = { ...best, rounds: rounds + 1, converged };
    sets.push(following.hypothesis.members.join());
    if (converged || frame.work?.isSpent || takesTurns(sets, ANNEALING.length)) break;
    if (competing && isBeaten(frame, round)) return { ...best, givenUp: true };
  }
  return best;
}

/** Moves what the round found into the model: axis, resolution, composition, background level. */
export function nextStart(frame: Frame, start: RoundStart, round: Round, stated: StatedInstrument): RoundStart {
  const {
    design: { layout },
    coefficients,
  } = round;
  const instrument = instrumentAfter(start, round);
  const found = foundIn(start.composition, instrument, round.design, round.hypothesis.x);
  return {
    ...start,
    instrument,
    // While the model is granted an error, its amounts are too rough to be worth more than a look.
    composition:
      start.relativeError > 0 ? found.fractions(found.amounts) : correctedMatrix(frame.emission, instrument, found),
    prior: instrumentPrior(stated, instrument),
    model: round.model,
    amounts: found.amounts,
    doubted: round.hypothesis.x.map((amount, e) => (amount > 0 ? amount : (start.amounts[e] ?? 0))),
    backgroundLevel: levelOf(layout.splines(coefficients), start.backgroundLevel),
    background: round.background,
    sumRate: sumRateOf(round.design, coefficients),
    heights: groupHeights(layout, round.design.members, coefficients),
  };
}

function instrumentAfter({ instrument, prior }: RoundStart, { design: { layout }, coefficients }: Round): Instrument {
  return movedInstrument(instrument, (kind) => coefficients[layout.indexOf(kind)], prior.pivotEv);
}

function sameSet(a: Round, b: Round): boolean {
  const [x, y] = [a.hypothesis.members, b.hypothesis.members];
  return x.length === y.length && x.every((e, i) => e === y[i]);
}

/** Largest move of the axis, eV, at zero energy and where most of the counts end. */
function axisMove(a: Instrument, b: Instrument, frame: Frame): number {
  const top = mostCountsEnd(frame);
  const bottom = Math.max(0, channelOf(a.axis, 0));
  const energy = ({ axis }: Instrument, channel: number): number => axis.offsetEv + axis.gainEv * channel;
  return Math.max(Math.abs(energy(a, top) - energy(b, top)), Math.abs(energy(a, bottom) - energy(b, bottom)));
}

/** Part of the counts that decides where the axis matters: beyond lie no lines that could hold it. */
const MOST = 0.95;

function mostCountsEnd({ counts, range: { lo, hi } }: Frame): number {
  const total = sumOver(counts, lo, hi);
  let sum = 0;
  for (let i = lo; i < hi; i++) if ((sum += counts[i]) >= MOST * total) return i;
  return hi;
}

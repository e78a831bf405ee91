import { log } from '../arithmetic/exponential.ts';
import { eliminatedAt, withoutColumns, type AmountsProblem } from '../fit/eliminate.ts';
import { gainOf } from '../fit/subset.ts';
import type { Instrument } from '../model/instrument.ts';
import { lifted, searchOwned, type OwnedHypothesis } from './nuisance-owners.ts';
import { score, type Hypothesis, type SearchOptions } from './search.ts';
import { SOFT_BELOW_EV, SOFTEST_BELOW_EV, type EvidencePlace } from './thresholds.ts';
import { isHopeless, type Frame, type Round } from './state.ts';

/** What happens to the explanation when one of its elements is left out together with everything of its own. */
export interface LeaveOneOut {
  readonly element: number;
  /** Rise of the penalised C when nothing takes its place. */
  readonly deltaNothing: number;
  /** Rise, prior odds counted, when the best other set takes its place; < 0: the other set is better. */
  readonly margin: number;
  /** The best explanation without the element. */
  readonly best: Hypothesis;
  /** The best one that a person would consider: at most MOST_RIVALS newcomers. */
  readonly instead: Hypothesis;
  /** Rise, prior odds counted, under `instead`. */
  readonly rivalMargin: number;
  /** Elements of `instead` that the present explanation does not have. */
  readonly added: readonly number[];
  /** Expected counts per channel when nothing takes its place, and under `instead`. */
  readonly expectedWithout: Float64Array;
  readonly expectedInstead: Float64Array;
  readonly evidence: EvidencePlace;
}

/** Swap moves per start in a leave-one-out. */
const TRIAL_SWAPS = 4;
/** A leave-one-out this much worse (chi-square) is lost: no swap would bring the alternative near. */
const LOST = 1000;

/** The other members with nothing in the place of one, whose own nuisances leave with it: they must not stand in for its peaks. */
export interface Gap {
  readonly element: number;
  readonly rest: readonly number[];
  /** Columns out of the model, the problem without them, its solution. */
  readonly struck: readonly number[];
  readonly bare: AmountsProblem;
  readonly nothing: Hypothesis;
}

/** What the search puts in such a gap. */
export interface Stead extends Gap {
  /** The best explanation without the element, and the best one that a person would consider. */
  readonly best: OwnedHypothesis;
  readonly told: OwnedHypothesis;
  /** Rise, prior odds counted, under `best`. */
  readonly margin: number;
  /** Elements of `told` that the present explanation does not have. */
  readonly added: readonly number[];
}

/** Takes one member out. */
export function gapOf(frame: Frame, { elimination, hypothesis, own, struck: out }: Round, element: number): Gap {
  const rest = hypothesis.members.filter((e) => e !== element);
  // An element may have come back without its nuisances, so the two lists can overlap.
  const struck = [...new Set([...out, ...(own.get(element) ?? [])])];
  const bare = withoutColumns(elimination, struck, frame.work);
  return { element, rest, struck, bare, nothing: score(bare, rest, { penalty: frame.penalty }) };
}

/** Searches for what takes the place of a member that was taken out. */
export function inSteadOf(frame: Frame, round: Round, gap: Gap, banned: ReadonlySet<number>): Stead {
  const { elimination, hypothesis, own } = round;
  const { element, rest, bare, nothing } = gap;
  const hopeless = frame.work?.isSpent || isHopeless(frame, round);
  const options = {
    penalty: frame.penalty,
    banned: new Set([...banned, element]),
    swaps: hopeless ? 0 : TRIAL_SWAPS,
    swapBelow: hypothesis.score + LOST,
    work: frame.work,
  };
  const members = new Set(hypothesis.members);
  const out = new Set([element, ...missingFrom(members, own.keys())]);
  const withRival = withBestRival(bare, rest, nothing, options.banned);
  const best = searchOwned(elimination, own, [rest, withRival], options, out);
  const told = tellable(bare, withRival, best, members, options);
  return {
    ...gap,
    best,
    told,
    margin: best.hypothesis.score - hypothesis.score,
    added: missingFrom(members, told.hypothesis.members),
  };
}

function missingFrom(members: ReadonlySet<number>, elements: Iterable<number>): number[] {
  const missing: number[] = [];
  for (const e of elements) if (!members.has(e)) missing.push(e);
  return missing;
}

/** Tries one member: with nothing, and with what the search proposes, in its place. */
export function leaveOneOut(frame: Frame, round: Round, element: number, banned: ReadonlySet<number>): LeaveOneOut {
  const { hypothesis } = round;
  const { best, told, margin, added, struck, bare, nothing } = inSteadOf(
    frame,
    round,
    gapOf(frame, round, element),
    banned,
  );
  const expectedWithout = expectedOf(frame, round, nothing.x, struck);
  return {
    element,
    deltaNothing: nothing.objective + bare.constant - hypothesis.objective,
    margin,
    instead: told.hypothesis,
    rivalMargin: told.hypothesis.score - hypothesis.score,
    added,
    best: best.hypothesis,
    expectedWithout,
    expectedInstead: expectedOf(frame, round, told.hypothesis.x, told.struck),
    evidence: evidencePlace(frame, round.instrument, round.model, expectedWithout),
  };
}

/** Where the counts speak for a member against nothing in its place. */
export function evidenceFor(frame: Frame, round: Round, { nothing, struck }: Gap): EvidencePlace {
  return evidencePlace(frame, round.instrument, round.model, expectedOf(frame, round, nothing.x, struck));
}

/** Expected counts per channel of other amounts, some columns struck out. */
function expectedOf(
  { counts }: Frame,
  { design: { layout }, elimination }: Round,
  x: Float64Array,
  struck: readonly number[],
): Float64Array {
  return layout.expected(layout.joined(x, eliminatedAt(elimination, x, struck)), counts.length);
}

/** Newcomers in one element's place that a person would still call a rival. */
const MOST_RIVALS = 3;

/** The best alternative itself, or, where it is a committee of many, the best single element in its place. */
function tellable(
  bare: AmountsProblem,
  withRival: readonly number[],
  best: OwnedHypothesis,
  members: ReadonlySet<number>,
  options: SearchOptions,
): OwnedHypothesis {
  if (missingFrom(members, best.hypothesis.members).length <= MOST_RIVALS) return best;
  const single = score(bare, withRival, options);
  return { ...best, hypothesis: lifted(single, bare.constant) };
}

/** The set with the element that gains most in its place: a second start for the search. */
function withBestRival(
  problem: AmountsProblem,
  rest: readonly number[],
  solved: Hypothesis,
  banned: ReadonlySet<number>,
): number[] {
  const gain = gainOf(problem, solved);
  let best = -1;
  for (let e = 0; e < problem.size; e++) {
    if (!banned.has(e) && gain[e] > (best < 0 ? 0 : gain[best])) best = e;
  }
  return best < 0 ? [...rest] : [...rest, best];
}

/** Where the counts speak for the present model against a poorer one: shares of the rise of C below 0.4 and 1.3 keV. */
export function evidencePlace(
  { counts, range }: Frame,
  { axis }: Instrument,
  model: Float64Array,
  poorer: Float64Array,
): EvidencePlace {
  let all = 0;
  let below400 = 0;
  let soft = 0;
  for (let i = range.lo; i < range.hi; i++) {
    const m = Math.max(poorer[i], 1e-3);
    const rise = 2 * (m - model[i] + counts[i] * log(model[i] / m));
    const energy = axis.offsetEv + axis.gainEv * i;
    all += rise;
    if (energy < SOFTEST_BELOW_EV) below400 += rise;
    if (energy < SOFT_BELOW_EV) soft += rise;
  }
  return all > 0 ? { below400: below400 / all, soft: soft / all } : { below400: 0, soft: 0 };
}

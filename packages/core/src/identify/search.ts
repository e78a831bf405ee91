import type { AmountsProblem } from '../fit/eliminate.ts';
import { gainOf, removalCosts, solveSubset, withMember, withoutMember, type SubsetSolution } from '../fit/subset.ts';
import { SEARCHING, type Work } from '../fit/work.ts';

/** An explanation: a set of elements with its best amounts, and its penalised chi-square (relative to no element). */
export interface Hypothesis extends SubsetSolution {
  readonly score: number;
}

export interface SearchOptions {
  /** Chi-square an element must be worth to be let in (−2 log prior odds), per element. */
  readonly penalty: Float64Array;
  /** Elements that may not be used, by index. */
  readonly banned?: ReadonlySet<number>;
  /** Swap moves per start, the costly ones; MAX_SWAPS when left out. */
  readonly swaps?: number;
  /** Score above which swaps are not tried: the set is lost anyway. */
  readonly swapBelow?: number;
  readonly work?: Work | undefined;
}

/** More steps than any path of strictly falling scores needs; a bound against numerical ping-pong. */
const MAX_STEPS = 60;
const MAX_SWAPS = 8;
/** Largest set an explanation may have: no grain shows that many elements; it bounds the time hostile counts can take. */
const MAX_MEMBERS = 24;
/** A change of score below this is no improvement (numerical noise), in units of chi-square and relative to the score. */
const MIN_IMPROVEMENT = 1e-6;
const MIN_RELATIVE_IMPROVEMENT = 1e-9;

/** Whether one score beats another by more than numerical noise. */
function beats(score: number, other: number): boolean {
  return score < other - Math.max(MIN_IMPROVEMENT, MIN_RELATIVE_IMPROVEMENT * Math.abs(other));
}

/**
 * Best explanation found by add, drop, swap and add-and-prune moves from each start in turn; deterministic.
 * @param starts sets of element indices to start from
 */
export function searchHypotheses(
  problem: AmountsProblem,
  starts: readonly (readonly number[])[],
  options: SearchOptions,
): Hypothesis {
  let best: Hypothesis | undefined;
  for (const start of starts) {
    const found = descend(
      problem,
      score(
        problem,
        start.filter((e) => !options.banned?.has(e)),
        options,
      ),
      options,
    );
    if (!best || beats(found.score, best.score)) best = found;
  }
  return best ?? score(problem, [], options);
}

/** Solves a set and scores it: chi-square plus the penalties of the members that stayed positive. */
export function score(problem: AmountsProblem, set: readonly number[], options: SearchOptions): Hypothesis {
  return scored(solveSubset(problem, set), options);
}

function scored(solution: SubsetSolution, { penalty, work }: SearchOptions): Hypothesis {
  work?.spend(SEARCHING * UPDATE * (solution.members.length + 1) ** 2);
  let total = solution.objective;
  for (const e of solution.members) total += penalty[e];
  return { ...solution, score: total };
}

/** Cost of a changed set, in squares of its size: a new inverse with its members' amounts. */
const UPDATE = 3;

function gainFrom(problem: AmountsProblem, current: Hypothesis, { work }: SearchOptions): Float64Array {
  work?.spend(SEARCHING * problem.size * (current.members.length + 1) ** 2);
  return gainOf(problem, current);
}

function descend(problem: AmountsProblem, start: Hypothesis, options: SearchOptions): Hypothesis {
  let current = start;
  let swaps = options.swaps ?? MAX_SWAPS;
  for (let step = 0; step < MAX_STEPS; step++) {
    let next = bestSingleMove(problem, current, options);
    const worthwhile = current.score < (options.swapBelow ?? Infinity);
    if (!next && worthwhile && swaps-- > 0) next = bestSwap(problem, current, options);
    if (!next || options.work?.isSpent) break;
    current = next;
  }
  // Solved anew: the steps only updated an inverse.
  return score(problem, current.members, options);
}

/** The best single addition or removal, pruned afterwards; undefined when none improves the score. */
function bestSingleMove(problem: AmountsProblem, current: Hypothesis, options: SearchOptions): Hypothesis | undefined {
  const { penalty } = options;
  const costs = removalCosts(current);
  let drop = -1;
  let add = -1;
  let bestValue = MIN_IMPROVEMENT;
  for (let i = 0; i < current.members.length; i++) {
    const e = current.members[i];
    if (!(penalty[e] - costs[i] > bestValue)) continue;
    bestValue = penalty[e] - costs[i];
    drop = e;
  }
  const gain = gainFrom(problem, current, options);
  const full = current.members.length >= MAX_MEMBERS;
  for (let e = 0; e < problem.size && !full; e++) {
    if (options.banned?.has(e) || gain[e] - penalty[e] <= bestValue) continue;
    bestValue = gain[e] - penalty[e];
    add = e;
    drop = -1;
  }
  if (drop < 0 && add < 0) return undefined;
  const changed =
    add >= 0 ? withMember(problem, current, add) : withoutMember(problem, current, current.members.indexOf(drop));
  const next = prune(problem, scored(changed, options), options);
  return beats(next.score, current.score) ? next : undefined;
}

/** Drops members that are not worth their penalty, the least worthy first. */
function prune(problem: AmountsProblem, start: Hypothesis, options: SearchOptions): Hypothesis {
  let current = start;
  for (;;) {
    const costs = removalCosts(current);
    let worst = -1;
    for (let i = 0; i < current.members.length; i++) {
      const loss = costs[i] - options.penalty[current.members[i]];
      if (loss < 0 && (worst < 0 || loss < costs[worst] - options.penalty[current.members[worst]])) worst = i;
    }
    if (worst < 0) return current;
    const next = scored(withoutMember(problem, current, worst), options);
    if (!(next.score < current.score)) return current;
    current = next;
  }
}

/**
 * Swaps and add-and-prune: each promising newcomer is forced in and the redundant fall out; each member in turn is
 * taken out and the best one or two others put in its place.
 */
function bestSwap(problem: AmountsProblem, current: Hypothesis, options: SearchOptions): Hypothesis | undefined {
  let best: Hypothesis | undefined;
  const offer = (candidate: Hypothesis): void => {
    if (beats(candidate.score, (best ?? current).score)) best = candidate;
  };
  const gain = gainFrom(problem, current, options);
  for (let e = 0; e < problem.size; e++) {
    if (!options.banned?.has(e) && gain[e] > 1) {
      offer(prune(problem, scored(withMember(problem, current, e), options), options));
    }
  }
  for (let place = 0; place < current.members.length; place++) {
    const rest = scored(withoutMember(problem, current, place), options);
    offer(refill(problem, rest, new Set([...(options.banned ?? []), current.members[place]]), options));
  }
  return best;
}

/** Adds the best newcomers, at most two, to a set from which something was taken. */
function refill(
  problem: AmountsProblem,
  start: Hypothesis,
  banned: ReadonlySet<number>,
  options: SearchOptions,
): Hypothesis {
  let current = start;
  for (let round = 0; round < 2; round++) {
    const gain = gainFrom(problem, current, options);
    let add = -1;
    for (let e = 0; e < problem.size; e++) {
      if (banned.has(e)) continue;
      if (gain[e] > options.penalty[e] && (add < 0 || gain[e] - options.penalty[e] > gain[add] - options.penalty[add]))
        add = e;
    }
    if (add < 0) break;
    current = prune(problem, scored(withMember(problem, current, add), options), options);
  }
  return current;
}

import { eliminatedAt, withoutColumns, type AmountsProblem } from '../fit/eliminate.ts';
import { gainsOf, solveSubset } from '../fit/subset.ts';
import { searchHypotheses, type Hypothesis } from './search.ts';
import type { Frame, Round } from './state.ts';

/** What happens to the explanation when one of its elements is left out together with everything of its own. */
export interface Trial {
  readonly element: number;
  /** Rise of chi-square when nothing takes its place. */
  readonly deltaNothing: number;
  /** Rise of penalised chi-square when the best other set takes its place; < 0: the other set is better. */
  readonly margin: number;
  /** The best explanation without the element. */
  readonly instead: Hypothesis;
  /** Elements of `instead` that the present explanation does not have. */
  readonly added: readonly number[];
  /** Coefficients of artefacts and nuisances under `instead`. */
  readonly theta: Float64Array;
}

/** Tries one member: its own nuisances leave with it, for they must not stand in for its peaks. */
export function leaveOut(frame: Frame, round: Round, element: number, banned: ReadonlySet<number>): Trial {
  const { elimination, hypothesis, artefacts, nuisances, templates } = round;
  const own = nuisances.flatMap(({ owner }, i) => (owner === templates[element].z ? [artefacts.length + i] : []));
  const problem: AmountsProblem = withoutColumns(elimination, own);
  const rest = hypothesis.members.filter((e) => e !== element);
  const nothing = solveSubset(problem, rest);
  const instead = searchHypotheses(problem, [rest, withBestRival(problem, rest, element, banned)], {
    penalty: frame.penalty,
    banned: new Set([...banned, element]),
  });
  const members = new Set(hypothesis.members);
  return {
    element,
    deltaNothing: nothing.objective + problem.constant - hypothesis.objective,
    margin: instead.score + problem.constant - hypothesis.score,
    instead,
    added: instead.members.filter((e) => !members.has(e)),
    theta: eliminatedAt(elimination, instead.x, own),
  };
}

/** The set with the element that gains most in its place: a second start for the search. */
function withBestRival(
  problem: AmountsProblem,
  rest: readonly number[],
  element: number,
  banned: ReadonlySet<number>,
): number[] {
  const { gain } = gainsOf(problem, solveSubset(problem, rest));
  let best = -1;
  for (let e = 0; e < problem.size; e++) {
    if (e !== element && !banned.has(e) && gain[e] > (best < 0 ? 0 : gain[best])) best = e;
  }
  return best < 0 ? [...rest] : [...rest, best];
}

import { ascending } from '../arithmetic/order.ts';
import { withoutColumns, type AmountsProblem, type Elimination } from '../fit/eliminate.ts';
import type { Layout } from '../fit/layout.ts';
import { searchHypotheses, type Hypothesis, type SearchOptions } from './search.ts';

/** Eliminated columns that belong to each element (by index): its own nuisances. */
export type OwnColumns = ReadonlyMap<number, readonly number[]>;

export function ownColumnsOf(layout: Layout): OwnColumns {
  const indexOf = new Map(layout.templates.map(({ z }, e) => [z, e]));
  const own = new Map<number, number[]>();
  for (let i = 0; i < layout.nuisances.length; i++) {
    const e = indexOf.get(layout.nuisances[i].owner);
    if (e === undefined) continue;
    const places = own.get(e);
    if (places) places.push(layout.placeEliminated(layout.nuisance(i)));
    else own.set(e, [layout.placeEliminated(layout.nuisance(i))]);
  }
  return own;
}

/** An explanation in which only its members' nuisances are in play, with the problem it was found in. */
export interface OwnedHypothesis {
  /** Objective and score relative to the whole elimination without any element. */
  readonly hypothesis: Hypothesis;
  readonly problem: AmountsProblem;
  /** Eliminated columns that are out of the model. */
  readonly struck: readonly number[];
}

/**
 * Searches for the best explanation and strikes out the nuisances of every element that is not in it, again and again
 * until none is left: bent by their coefficients alone, the nuisances of an absent element could rebuild its peaks.
 * @param out elements whose nuisances are out from the start
 */
export function searchOwned(
  elimination: Elimination,
  own: OwnColumns,
  starts: readonly (readonly number[])[],
  options: SearchOptions,
  out: ReadonlySet<number> = new Set(),
): OwnedHypothesis {
  const absent = new Set([...out].filter((e) => own.has(e)));
  let from = starts;
  for (;;) {
    const struck: number[] = [];
    for (const e of absent) struck.push(...own.get(e)!);
    struck.sort(ascending);
    const problem = withoutColumns(elimination, struck, options.work);
    const swapBelow = (options.swapBelow ?? Infinity) - problem.constant;
    const found = searchHypotheses(problem, from, { ...options, swapBelow });
    const members = new Set(found.members);
    const left = [...own.keys()].filter((e) => !members.has(e) && !absent.has(e));
    if (left.length === 0) return { hypothesis: lifted(found, problem.constant), problem, struck };
    for (const e of left) absent.add(e);
    // The element that just left may still be worth its rigid lines, so it is among the starts.
    from = [found.members, [...found.members, ...left.filter((e) => !options.banned?.has(e))]];
  }
}

/** A hypothesis of a problem with struck columns, told relative to the whole elimination. */
export function lifted(hypothesis: Hypothesis, constant: number): Hypothesis {
  return { ...hypothesis, objective: hypothesis.objective + constant, score: hypothesis.score + constant };
}

import { ascending } from '../arithmetic/order.ts';
import { Scratch } from '../arithmetic/scratch.ts';
import { cash } from '../fit/cash.ts';
import { affordableDesign, expectedCounts, weightsOf, type Design } from '../fit/design.ts';
import type { Expansion } from '../fit/expansion.ts';
import { eliminate, eliminatedAt, withoutColumns, type Elimination } from '../fit/eliminate.ts';
import { normalEquations } from '../fit/normal.ts';
import { bundleOf } from '../fit/bundle.ts';
import { linearCost, meeting } from '../fit/work.ts';
import { lifted, ownColumnsOf, searchOwned, type OwnColumns, type OwnedHypothesis } from './nuisance-owners.ts';
import { score } from './search.ts';
import type { Frame, Round } from './state.ts';

/** What a round starts from: where the model is made linear, and the explanation of the round before. */
export interface RoundStart extends Expansion {
  /** Amount of each candidate in the round before, 0 outside its explanation: where the search starts. */
  readonly amounts: Float64Array;
  /** Amounts whose lines get nuisances: of the last two rounds, lest two sets take turns, each missing the other's doubts. */
  readonly doubted: Float64Array;
  /** Relative error granted to the model, beside counting; annealed to 0 over the rounds. */
  readonly relativeError: number;
  /** The model is far from the counts: nothing is gained by a long search. */
  readonly hopeless: boolean;
  /** Element indices that may not be used. */
  readonly banned: ReadonlySet<number>;
}

const NORMAL = new Scratch();

/** The model made linear around a start, everything but the amounts eliminated. */
export interface Linearised {
  readonly start: RoundStart;
  readonly design: Design;
  readonly elimination: Elimination;
  readonly own: OwnColumns;
}

/** @param beside a design made where the start is, for a set of elements that explains the same peaks */
export function linearised(
  frame: Frame,
  candidates: readonly number[],
  start: RoundStart,
  beside?: Design,
): Linearised {
  const { lo, hi } = frame.range;
  const weights = weightsOf(start.model, start.relativeError, lo, hi);
  const design = affordableDesign(frame, candidates, start, start.doubted, weights, beside);
  const { layout } = design;
  const { filled } = bundleOf(layout.columns);
  frame.work?.spend(linearCost(layout.size, hi - lo, meeting(filled, layout.size, hi - lo)));
  const normal = normalEquations(layout.columns, frame.counts, weights, lo, hi, NORMAL.of(layout.size ** 2));
  return { start, design, elimination: eliminate(normal, layout.elements, design.prior), own: ownColumnsOf(layout) };
}

/** One round: the model made linear around a start, and the best set of elements found. */
export function solveRound(frame: Frame, candidates: readonly number[], start: RoundStart): Round {
  const before = [...start.amounts.keys()].filter((e) => start.amounts[e] > 0);
  return searched(frame, linearised(frame, candidates, start), start.relativeError > 0 ? [before, []] : [before]);
}

/** The best set of elements that a search finds in a linear model. @param from sets of element indices to start from */
export function searched(frame: Frame, linear: Linearised, from: readonly (readonly number[])[]): Round {
  const { start, elimination, own } = linear;
  const options = {
    penalty: frame.penalty,
    banned: start.banned,
    work: frame.work,
    ...((start.hopeless || frame.work?.isSpent) && { swaps: 0 }),
  };
  return concluded(frame, linear, searchOwned(elimination, own, from, options));
}

/** The round of a given set of elements: those of it whose amount is above 0. */
export function withSet(frame: Frame, linear: Linearised, set: readonly number[]): Round {
  const { elimination, own } = linear;
  const members = new Set(set);
  const struck = [...own].flatMap(([e, columns]) => (members.has(e) ? [] : columns)).sort(ascending);
  const problem = withoutColumns(elimination, struck, frame.work);
  const hypothesis = lifted(score(problem, set, { penalty: frame.penalty }), problem.constant);
  return concluded(frame, linear, { hypothesis, problem, struck });
}

function concluded(frame: Frame, linear: Linearised, { hypothesis, problem, struck }: OwnedHypothesis): Round {
  const { start, design, elimination, own } = linear;
  const { layout } = design;
  const { lo, hi } = frame.range;
  const n = frame.counts.length;
  const coefficients = layout.joined(hypothesis.x, eliminatedAt(elimination, hypothesis.x, struck));
  const model = expectedCounts(design, coefficients, frame);
  const c = cash(frame.counts, model, lo, hi);
  let merit = c;
  for (const e of hypothesis.members) merit += frame.penalty[e];
  const out = new Set(struck);
  layout.nuisances.forEach(({ mean, sigma }, i) => {
    const index = layout.nuisance(i);
    if (!out.has(layout.placeEliminated(index))) merit += ((coefficients[index] - mean) / sigma) ** 2;
  });
  return {
    instrument: start.instrument,
    composition: start.composition,
    design,
    elimination,
    own,
    problem,
    struck,
    hypothesis,
    coefficients,
    background: layout.continuum(coefficients, n),
    model,
    merit,
    c,
  };
}

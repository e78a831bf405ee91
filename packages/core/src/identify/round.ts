import { cash } from '../fit/cash.ts';
import { designOf, expectedCounts, weightsOf } from '../fit/design.ts';
import type { Expansion } from '../fit/expansion.ts';
import { eliminate, eliminatedAt } from '../fit/eliminate.ts';
import { normalEquations } from '../fit/normal.ts';
import { ownColumnsOf, searchOwned } from './nuisance-owners.ts';
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

/** One round: the model made linear around a start, everything but the amounts eliminated, the best set of elements found. */
export function solveRound(frame: Frame, candidates: readonly number[], start: RoundStart): Round {
  const { counts, range } = frame;
  const { lo, hi } = range;
  const n = counts.length;
  const weights = weightsOf(start.model, start.relativeError, lo, hi);
  const design = designOf(frame, candidates, start, start.doubted, weights);
  const { layout } = design;
  const normal = normalEquations(layout.columns, counts, weights, lo, hi);
  const elimination = eliminate(normal, layout.elements, design.prior);
  const before = start.amounts.reduce<number[]>((list, amount, e) => (amount > 0 ? [...list, e] : list), []);
  const own = ownColumnsOf(layout);
  const { hypothesis, problem, struck } = searchOwned(
    elimination,
    own,
    start.relativeError > 0 ? [before, []] : [before],
    { penalty: frame.penalty, banned: start.banned, ...(start.hopeless && { swaps: 0 }) },
  );
  const coefficients = layout.joined(hypothesis.x, eliminatedAt(elimination, hypothesis.x, struck));
  const model = expectedCounts(design, coefficients, frame);
  const c = cash(counts, model, lo, hi);
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

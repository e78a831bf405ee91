import { bandedOf } from '../arithmetic/banded.ts';
import { picked } from '../arithmetic/pick.ts';
import { Scratch } from '../arithmetic/scratch.ts';
import { principalBlock } from './cholesky.ts';
import type { Prior } from './eliminate.ts';
import type { Scene } from './expansion.ts';
import { fitPoisson } from './poisson.ts';
import type { PoissonProblem } from './poisson-problem.ts';
import { problemOf, type SpectrumFit } from './spectrum-fit.ts';

/** Comparisons of fits end at a chi-square far below anything that a verdict asks for. */
export const COMPARISON = { tolerance: 1e-2, maxIterations: 12 } as const;

/** A fit with columns taken out, from the solution with them. */
export interface Refit {
  /** Rise of the penalised C against the fit with the columns. */
  readonly rise: number;
  /** Expected counts per channel. */
  readonly expected: Float64Array;
}

/**
 * Maximum likelihood without some of a fit's columns, everything else fitted anew from where it stood.
 * @param out indices of the coefficients that leave
 */
export function refitWithout(scene: Scene, { design, fit }: SpectrumFit, out: readonly number[]): Refit {
  const gone = new Set(out);
  const keep = [...fit.coefficients.keys()].filter((j) => !gone.has(j));
  const problem = reduced(problemOf(scene, design), keep);
  const start = picked(fit.coefficients, keep);
  const less = fitPoisson(problem, start, {
    ...COMPARISON,
    information: principalBlock(fit.information, fit.coefficients.length, keep, INFORMATION.of(keep.length ** 2)),
  });
  return { rise: less.penalised - fit.penalised, expected: less.expected };
}

const INFORMATION = new Scratch();

/** The fit's own columns alone, in this order. */
function reduced(problem: PoissonProblem, keep: readonly number[]): PoissonProblem {
  const { columns, lower, prior } = problem;
  return {
    ...problem,
    columns: keep.map((j) => columns[j]),
    lower: picked(lower, keep),
    prior: prior && {
      precision: bandedOf(prior.precision, keep),
      precisionMean: picked(prior.precisionMean, keep),
      // A column that leaves takes its prior with it: what is left is 0 at its mean again.
      constant: (prior.constant ?? 0) - goneConstant(prior, keep),
    },
  };
}

function goneConstant({ precision, precisionMean }: Prior, keep: readonly number[]): number {
  const kept = new Set(keep);
  let constant = 0;
  for (let j = 0; j < precision.size; j++) {
    const own = precision.own[j];
    if (!kept.has(j) && own > 0) constant += precisionMean[j] ** 2 / own;
  }
  return constant;
}

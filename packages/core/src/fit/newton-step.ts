import { log } from '../arithmetic/exponential.ts';
import { addBanded } from '../arithmetic/banded.ts';
import { Scratch } from '../arithmetic/scratch.ts';
import { stretch } from '../arithmetic/stretch.ts';
import { addColumns, bundleOf, productsWith } from './bundle.ts';
import { choleskyOf, solveCholesky } from './cholesky.ts';
import type { Prior } from './eliminate.ts';
import { normalEquations } from './normal.ts';
import type { PoissonProblem } from './poisson-problem.ts';
import { addPrior } from './pull.ts';
import { FACTORING, meeting, sumsCost } from './work.ts';

// One projected Newton step of a Poisson fit: where a solution stands, and the way down from there.

/** An information matrix is used again while the decrement falls by at least this factor per step: a new one costs as much as ten steps. */
const GOOD_PROGRESS = 0.3;

/** Where a solution stands. */
export interface State {
  readonly coefficients: Float64Array;
  readonly expected: Float64Array;
  /** Half the penalised C, up to a constant. */
  readonly objective: number;
  /** Slope upwards of the log posterior. */
  readonly gradient: Float64Array;
}

export interface Step {
  /** Information that the step was made with, p × p. */
  readonly matrix: Float64Array;
  readonly free: readonly number[];
  /** Cholesky factor of its block of the free coefficients; void, as the information, once another one is made. */
  readonly factor: Float64Array;
  /** Newton direction, 0 for coefficients held at their bound. */
  readonly direction: Float64Array;
  readonly decrement: number;
}

/**
 * Expected counts below this are followed by a parabola instead of the logarithm, so that the objective stays finite and
 * convex while steps try negative expectations.
 */
export const FLOOR = 0.02;

/** Slope of each channel of the last state: only the sums over it are kept. */
let slope = new Float64Array(0);

export function stateAt(problem: PoissonProblem, coefficients: Float64Array): State {
  const { columns, counts, lo, hi, prior } = problem;
  const expected = problem.fixed?.slice() ?? new Float64Array(counts.length);
  const bundle = bundleOf(columns);
  problem.work?.spend(sumsCost(bundle.filled));
  addColumns(expected, bundle, coefficients);
  if (slope.length < counts.length) slope = new Float64Array(counts.length);
  let objective = 0;
  for (let i = lo; i < hi; i++) {
    const n = counts[i];
    const m = expected[i];
    if (m >= FLOOR) {
      objective += m - (n > 0 ? n * log(m) : 0);
      slope[i] = n / m - 1;
    } else {
      const curvature = Math.max(n / FLOOR, 1) / FLOOR;
      const first = 1 - n / FLOOR;
      const under = m - FLOOR;
      objective += FLOOR - (n > 0 ? n * log(FLOOR) : 0) + first * under + 0.5 * curvature * under * under;
      slope[i] = -first - curvature * under;
    }
  }
  const gradient = productsWith(bundle, slope, lo, hi);
  if (prior) objective += addPrior(prior, coefficients, gradient);
  return { coefficients, expected, objective, gradient };
}

/** Coefficients that may move: those off their bound, and those at it that are drawn inside. */
export function freeOf({ lower }: PoissonProblem, { coefficients, gradient }: State): number[] {
  const free: number[] = [];
  for (let j = 0; j < coefficients.length; j++) if (coefficients[j] > lower[j] || gradient[j] > 0) free.push(j);
  return free;
}

function sameFree(a: readonly number[], b: readonly number[]): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** The information of the step before serves again where that still makes good progress: weights change little near the end. */
export function nextStep(problem: PoissonProblem, state: State, before: Step): Step {
  const free = freeOf(problem, state);
  const kept = sameFree(before.free, free) ? before : factored(problem, before.matrix, free);
  const again = newtonStep(state, kept);
  return again.decrement < GOOD_PROGRESS * before.decrement ? again : freshStep(problem, state);
}

export function freshStep(problem: PoissonProblem, state: State): Step {
  const { matrix } = information(problem, state.expected, problem.prior);
  return newtonStep(state, factored(problem, matrix, freeOf(problem, state)));
}

type Factored = Pick<Step, 'matrix' | 'free' | 'factor'>;

export function factored({ columns, work }: PoissonProblem, matrix: Float64Array, free: readonly number[]): Factored {
  work?.spend((FACTORING * free.length ** 2 * free.length) / 6);
  return { matrix, free, factor: choleskyOf(matrix, columns.length, free, FACTOR.of(free.length ** 2)) };
}

/** Newton's direction from the factor of an information matrix, the present one or a recent one. */
export function newtonStep(state: State, { matrix, free, factor }: Factored): Step {
  const short = stretch(free.length);
  for (let i = 0; i < free.length; i++) short[i] = state.gradient[free[i]];
  solveCholesky(factor, free.length, short);
  const direction = stretch(state.gradient.length);
  let decrement = 0;
  for (let i = 0; i < free.length; i++) {
    direction[free[i]] = short[i];
    decrement += short[i] * state.gradient[free[i]];
  }
  return { matrix, free, factor, direction, decrement };
}

/** A fit has no more than one information matrix and one factor at a time, and fits come one after the other. */
const [MATRIX, FACTOR, WEIGHTS] = [new Scratch(), new Scratch(), new Scratch()];

/** Expected information of the counts, with the prior's precision added where one is given; void once it is asked for again. */
export function information(
  problem: PoissonProblem,
  expected: Float64Array,
  prior: Prior | null,
): { matrix: Float64Array } {
  const { columns, counts, lo, hi } = problem;
  const meet = meeting(bundleOf(columns).filled, columns.length, hi - lo);
  problem.work?.spend(meet * columns.length ** 2 * (hi - lo));
  const weights = WEIGHTS.of(counts.length);
  for (let i = lo; i < hi; i++) weights[i] = 1 / Math.max(expected[i], FLOOR);
  const { matrix } = normalEquations(columns, counts, weights, lo, hi, MATRIX.of(columns.length ** 2));
  if (prior) addBanded(matrix, prior.precision);
  return { matrix };
}

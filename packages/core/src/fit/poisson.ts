import { log } from '../arithmetic/exponential.ts';
import type { Column } from '../model/column.ts';
import { addColumns, bundleOf, productsWith } from './bundle.ts';
import { cash } from './cash.ts';
import { cholesky, choleskyOf, inverseFromCholesky, principalBlock, solveCholesky, solveLower } from './cholesky.ts';
import type { Prior } from './eliminate.ts';
import { addPrior } from './pull.ts';
import { normalEquations } from './normal.ts';
import { FACTORING, type Work } from './work.ts';
import { stretch } from '../arithmetic/stretch.ts';

/** Counts whose expectation is a sum of columns, each times a coefficient that may be bounded and may have a prior. */
export interface PoissonProblem {
  readonly columns: readonly Column[];
  readonly counts: Float64Array;
  /** Channels [lo, hi) are fitted. */
  readonly lo: number;
  readonly hi: number;
  /** Lower bound of each coefficient, -Infinity where there is none. */
  readonly lower: Float64Array;
  /** Gaussian prior; null for none. */
  readonly prior: Prior | null;
  /** Expected counts that are part of every solution, per channel. */
  readonly fixed?: Float64Array;
  readonly work?: Work | undefined;
}

export interface PoissonFit {
  readonly coefficients: Float64Array;
  /** Expected counts per channel, 0 outside [lo, hi). */
  readonly expected: Float64Array;
  /** Cash statistic. */
  readonly c: number;
  /** What the fit made least: C and the prior's pull, which is 0 at its mean, together, up to a constant of the counts. */
  readonly penalised: number;
  /** p × p, row-major: expected information at the solution, prior included. */
  readonly information: Float64Array;
  /** 1 where a coefficient lies at its bound. */
  readonly bound: Uint8Array;
  /** p × p, row-major; inverse of the expected information (prior included) of the coefficients off their bounds. */
  readonly covariance: Float64Array;
  /** Variance of one coefficient by the information of the last steps, 0 at its bound: near enough to judge a step by, at once. */
  variance(j: number): number;
  /** Coefficients the counts determine: trace of covariance × information of the counts alone. */
  readonly effectiveParameters: number;
  /** What another Newton step would still take off the penalised C: squared distance to the maximum in standard deviations. */
  readonly decrement: number;
  readonly iterations: number;
  readonly converged: boolean;
}

export interface PoissonOptions {
  /** Expected counts known roughly, > 0: the fit then starts from the weighted least squares of these weights, not from `start`. */
  readonly roughly?: Float64Array;
  /** Decrement at which the fit has converged; 1e-6, a thousandth of a standard deviation. */
  readonly tolerance?: number;
  readonly maxIterations?: number;
  /** Information (prior included) near the solution, p × p: saves making it for the first steps. */
  readonly information?: Float64Array;
}

const TOLERANCE = 1e-6;
const MAX_ITERATIONS = 60;
/** Steps of a fit when the work of its reading is spent. */
const LEAST_ITERATIONS = 6;
/** Part of the products of two columns that a channel takes part in: most columns are narrow. */
const DENSITY = 0.1;
const MAX_HALVINGS = 30;
/** A step must win at least this part of what the slope promises (Armijo). */
const SUFFICIENT = 1e-4;
/** An information matrix is used again while the decrement falls by at least this factor per step: a new one costs as much as ten steps. */
const GOOD_PROGRESS = 0.3;

/**
 * Maximises the Poisson likelihood times the prior under the bounds: projected Newton steps with the expected information
 * (Fisher scoring) and a line search. The objective is convex, so there is one maximum.
 * @param start coefficients to start from, inside the bounds; a start with expected counts > 0 saves steps
 * @throws NotPositiveDefiniteError when a coefficient is neither measured nor bound by a prior
 * Source: D.P. Bertsekas, SIAM J. Control Optim. 20 (1982) 221 (projected Newton); likelihood: W. Cash, Astrophys. J. 228
 * (1979) 939.
 */
export function fitPoisson(problem: PoissonProblem, start: Float64Array, options: PoissonOptions = {}): PoissonFit {
  const { roughly, tolerance = TOLERANCE, maxIterations = MAX_ITERATIONS, information: near } = options;
  // The information of the rough expectation is near enough for the first steps.
  const rough = roughly ? information(problem, roughly, problem.prior).matrix : near;
  let state = stateAt(problem, roughly ? leastSquares(problem, roughly, rough!) : start);
  let step = rough ? newtonStep(state, factored(problem, rough, freeOf(problem, state))) : freshStep(problem, state);
  let iterations = 0;
  let converged = false;
  const enough = (): boolean => problem.work?.isSpent === true && iterations >= LEAST_ITERATIONS;
  for (; iterations < maxIterations && !enough(); iterations++) {
    if (step.decrement < tolerance) {
      converged = true;
      break;
    }
    const next = search(problem, state, step);
    if (!next) break;
    state = next;
    step = nextStep(problem, state, step);
  }
  return summary(problem, state, step, { iterations, tolerance, converged });
}

interface State {
  readonly coefficients: Float64Array;
  readonly expected: Float64Array;
  /** Half the penalised C, up to a constant. */
  readonly objective: number;
  /** Slope upwards of the log posterior. */
  readonly gradient: Float64Array;
}

interface Step {
  /** Information that the step was made with, p × p. */
  readonly matrix: Float64Array;
  readonly free: readonly number[];
  /** Cholesky factor of its block of the free coefficients. */
  readonly factor: Float64Array;
  /** Newton direction, 0 for coefficients held at their bound. */
  readonly direction: Float64Array;
  readonly decrement: number;
}

/**
 * Expected counts below this are followed by a parabola instead of the logarithm, so that the objective stays finite and
 * convex while steps try negative expectations.
 */
const FLOOR = 0.02;

/** Slope of each channel of the last state: only the sums over it are kept. */
let slope = new Float64Array(0);

function stateAt(problem: PoissonProblem, coefficients: Float64Array): State {
  const { columns, counts, lo, hi, prior } = problem;
  problem.work?.spend(columns.length * (hi - lo));
  const expected = problem.fixed?.slice() ?? new Float64Array(counts.length);
  const bundle = bundleOf(columns);
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
function freeOf({ lower }: PoissonProblem, { coefficients, gradient }: State): number[] {
  const free: number[] = [];
  for (let j = 0; j < coefficients.length; j++) if (coefficients[j] > lower[j] || gradient[j] > 0) free.push(j);
  return free;
}

const sameFree = (a: readonly number[], b: readonly number[]): boolean =>
  a.length === b.length && a.every((value, i) => value === b[i]);

/** The information of the step before serves again where that still makes good progress: weights change little near the end. */
function nextStep(problem: PoissonProblem, state: State, before: Step): Step {
  const free = freeOf(problem, state);
  const kept = sameFree(before.free, free) ? before : factored(problem, before.matrix, free);
  const again = newtonStep(state, kept);
  return again.decrement < GOOD_PROGRESS * before.decrement ? again : freshStep(problem, state);
}

function freshStep(problem: PoissonProblem, state: State): Step {
  const { matrix } = information(problem, state.expected, problem.prior);
  return newtonStep(state, factored(problem, matrix, freeOf(problem, state)));
}

type Factored = Pick<Step, 'matrix' | 'free' | 'factor'>;

function factored({ columns, work }: PoissonProblem, matrix: Float64Array, free: readonly number[]): Factored {
  work?.spend((FACTORING * free.length ** 2 * free.length) / 6);
  return { matrix, free, factor: choleskyOf(matrix, columns.length, free) };
}

/** Newton's direction from the factor of an information matrix, the present one or a recent one. */
function newtonStep(state: State, { matrix, free, factor }: Factored): Step {
  const short = stretch(free.length);
  for (let i = 0; i < free.length; i++) short[i] = state.gradient[free[i]];
  solveCholesky(factor, free.length, short);
  const direction = stretch(state.gradient.length);
  let decrement = 0;
  free.forEach((j, i) => {
    direction[j] = short[i];
    decrement += short[i] * state.gradient[j];
  });
  return { matrix, free, factor, direction, decrement };
}

/** Coefficients of the weighted least squares, whose information is `matrix`, those below their bounds put at them. */
function leastSquares(problem: PoissonProblem, expected: Float64Array, matrix: Float64Array): Float64Array {
  const { columns, counts, lo, hi, lower, prior } = problem;
  const measured = new Float64Array(counts.length);
  for (let i = lo; i < hi; i++) measured[i] = counts[i] / Math.max(expected[i], FLOOR);
  const solution = productsWith(bundleOf(columns), measured, lo, hi);
  if (prior) for (let j = 0; j < solution.length; j++) solution[j] += prior.precisionMean[j];
  solveCholesky(cholesky(matrix, columns.length), columns.length, solution);
  return solution.map((value, j) => Math.max(value, lower[j]));
}

/** Expected information of the counts, with the prior's precision added where one is given. */
function information(problem: PoissonProblem, expected: Float64Array, prior: Prior | null): { matrix: Float64Array } {
  const { columns, counts, lo, hi } = problem;
  problem.work?.spend(DENSITY * columns.length ** 2 * (hi - lo));
  const weights = new Float64Array(counts.length);
  for (let i = lo; i < hi; i++) weights[i] = 1 / Math.max(expected[i], FLOOR);
  const { matrix } = normalEquations(columns, counts, weights, lo, hi);
  if (prior) for (let i = 0; i < matrix.length; i++) matrix[i] += prior.precision[i];
  return { matrix };
}

/** The first point on the way down that keeps its promise; null where rounding leaves none. */
function search(problem: PoissonProblem, state: State, { direction }: Step): State | null {
  const { lower } = problem;
  let length = 1;
  for (let halving = 0; halving < MAX_HALVINGS; halving++, length /= 2) {
    let promise = 0;
    const moved = state.coefficients.map((value, j) => {
      const to = Math.max(lower[j], value + length * direction[j]);
      promise += state.gradient[j] * (to - value);
      return to;
    });
    const next = stateAt(problem, moved);
    if (next.objective <= state.objective - SUFFICIENT * promise) return next;
  }
  return null;
}

/** Rounding: a line search that finds nothing better ends a fit that is this close all the same. */
const NEARLY = 100;

function summary(
  problem: PoissonProblem,
  state: State,
  { free, factor }: Step,
  {
    iterations,
    tolerance,
    converged,
  }: { readonly iterations: number; readonly tolerance: number; readonly converged: boolean },
): PoissonFit {
  const { counts, lo, hi } = problem;
  const expected = state.expected.map((m, i) => (i < lo || i >= hi ? 0 : Math.max(m, FLOOR / 10)));
  let known: Uncertainty | undefined;
  // Fits that are only compared with others never ask how well their coefficients are known.
  const uncertainty = (): Uncertainty => (known ??= uncertaintyOf(problem, state));
  return {
    coefficients: state.coefficients,
    expected,
    c: cash(counts, expected, lo, hi),
    penalised: 2 * state.objective + (problem.prior?.constant ?? 0),
    iterations,
    get information() {
      return uncertainty().information;
    },
    get bound() {
      return uncertainty().bound;
    },
    get covariance() {
      return uncertainty().covariance;
    },
    variance: (j) => varianceOf(factor, free, j),
    get effectiveParameters() {
      return uncertainty().effectiveParameters;
    },
    get decrement() {
      return uncertainty().decrement;
    },
    get converged() {
      return converged || uncertainty().decrement < NEARLY * tolerance;
    },
  };
}

/** A diagonal element of the inverse, from the factor: the square of L⁻¹ times the unit vector. */
function varianceOf(factor: Float64Array, free: readonly number[], j: number): number {
  const place = free.indexOf(j);
  if (place < 0) return 0;
  const unit = stretch(free.length);
  unit[place] = 1;
  solveLower(factor, free.length, unit);
  return unit.reduce((sum, value) => sum + value * value, 0);
}

type Uncertainty = Pick<PoissonFit, 'information' | 'bound' | 'covariance' | 'effectiveParameters' | 'decrement'>;

/** What the information at the solution tells. */
function uncertaintyOf(problem: PoissonProblem, state: State): Uncertainty {
  const p = problem.columns.length;
  const free = freeOf(problem, state);
  const { matrix } = information(problem, state.expected, null);
  const k = free.length;
  const block = principalBlock(matrix, p, free);
  const counted = block.slice();
  const whole = matrix.slice();
  if (problem.prior) {
    const { precision } = problem.prior;
    for (let i = 0; i < whole.length; i++) whole[i] += precision[i];
    for (let r = 0; r < k; r++) for (let c = 0; c < k; c++) block[r * k + c] += precision[free[r] * p + free[c]];
  }
  const factor = cholesky(block, k);
  const inverse = inverseFromCholesky(factor, k);
  const covariance = new Float64Array(p * p);
  let effectiveParameters = 0;
  for (let r = 0; r < k; r++) {
    for (let c = 0; c < k; c++) {
      covariance[free[r] * p + free[c]] = inverse[r * k + c];
      // Both are symmetric.
      effectiveParameters += inverse[r * k + c] * counted[r * k + c];
    }
  }
  const { decrement } = newtonStep(state, { matrix, free, factor });
  const bound = new Uint8Array(p).fill(1);
  for (const j of free) bound[j] = 0;
  return { information: whole, bound, covariance, effectiveParameters, decrement };
}

import { addBanded } from '../arithmetic/banded.ts';
import { Scratch } from '../arithmetic/scratch.ts';
import { stretch } from '../arithmetic/stretch.ts';
import { bundleOf, productsWith } from './bundle.ts';
import { cash } from './cash.ts';
import { cholesky, choleskyOf, inverseFromCholesky, solveCholesky } from './cholesky.ts';
import {
  factored,
  FLOOR,
  freeOf,
  freshStep,
  information,
  newtonStep,
  nextStep,
  stateAt,
  type State,
  type Step,
} from './newton-step.ts';
import type { PoissonFit, PoissonOptions, PoissonProblem } from './poisson-problem.ts';

const TOLERANCE = 1e-6;
const MAX_ITERATIONS = 60;
/** Steps of a fit when the work of its reading is spent. */
const LEAST_ITERATIONS = 6;
const MAX_HALVINGS = 30;
/** A step must win at least this part of what the slope promises (Armijo). */
const SUFFICIENT = 1e-4;

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

const [MEASURED, FACTOR, INVERSE] = [new Scratch(), new Scratch(), new Scratch()];

/** Coefficients of the weighted least squares, whose information is `matrix`, those below their bounds put at them. */
function leastSquares(problem: PoissonProblem, expected: Float64Array, matrix: Float64Array): Float64Array {
  const { columns, counts, lo, hi, lower, prior } = problem;
  const measured = MEASURED.of(counts.length);
  for (let i = lo; i < hi; i++) measured[i] = counts[i] / Math.max(expected[i], FLOOR);
  const solution = productsWith(bundleOf(columns), measured, lo, hi);
  if (prior) for (let j = 0; j < solution.length; j++) solution[j] += prior.precisionMean[j];
  const p = columns.length;
  solveCholesky(cholesky(matrix, p, FACTOR.of(p * p)), p, solution);
  for (let j = 0; j < p; j++) solution[j] = Math.max(solution[j], lower[j]);
  return solution;
}

/** The first point on the way down that keeps its promise; null where rounding leaves none. */
function search(problem: PoissonProblem, state: State, { direction }: Step): State | null {
  const { lower } = problem;
  let length = 1;
  for (let halving = 0; halving < MAX_HALVINGS; halving++, length /= 2) {
    let promise = 0;
    const moved = new Float64Array(state.coefficients.length);
    for (let j = 0; j < moved.length; j++) {
      const value = state.coefficients[j];
      moved[j] = Math.max(lower[j], value + length * direction[j]);
      promise += state.gradient[j] * (moved[j] - value);
    }
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
  const expected = new Float64Array(counts.length);
  for (let i = lo; i < hi; i++) expected[i] = Math.max(state.expected[i], FLOOR / 10);
  const rows = packed(factor, free.length);
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
    variance: (j) => varianceOf(rows, free, j),
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

/** The rows of a lower triangle, one after the other. */
function packed(l: Float64Array, n: number): Float64Array {
  const out = new Float64Array((n * (n + 1)) / 2);
  for (let i = 0, at = 0; i < n; i++) for (let k = 0; k <= i; k++) out[at++] = l[i * n + k];
  return out;
}

/** A diagonal element of the inverse, from the factor's rows: the square of L⁻¹ times the unit vector, by forward substitution. */
function varianceOf(rows: Float64Array, free: readonly number[], j: number): number {
  const place = free.indexOf(j);
  if (place < 0) return 0;
  const solution = stretch(free.length);
  let square = 0;
  for (let i = place; i < free.length; i++) {
    const row = (i * (i + 1)) / 2;
    let value = i === place ? 1 : 0;
    for (let k = place; k < i; k++) value -= rows[row + k] * solution[k];
    solution[i] = value / rows[row + i];
    square += solution[i] * solution[i];
  }
  return square;
}

type Uncertainty = Pick<PoissonFit, 'information' | 'bound' | 'covariance' | 'effectiveParameters' | 'decrement'>;

/** What the information at the solution tells. */
function uncertaintyOf(problem: PoissonProblem, state: State): Uncertainty {
  const p = problem.columns.length;
  const free = freeOf(problem, state);
  const { matrix } = information(problem, state.expected, null);
  const k = free.length;
  const whole = matrix.slice();
  if (problem.prior) addBanded(whole, problem.prior.precision);
  const factor = choleskyOf(whole, p, free, FACTOR.of(k * k));
  const inverse = inverseFromCholesky(factor, k, INVERSE.of(k * k));
  const covariance = new Float64Array(p * p);
  let effectiveParameters = 0;
  for (let r = 0; r < k; r++) {
    for (let c = 0; c < k; c++) {
      covariance[free[r] * p + free[c]] = inverse[r * k + c];
      // Both are symmetric.
      effectiveParameters += inverse[r * k + c] * matrix[free[r] * p + free[c]];
    }
  }
  const { decrement } = newtonStep(state, { matrix, free, factor });
  const bound = new Uint8Array(p).fill(1);
  for (const j of free) bound[j] = 0;
  return { information: whole, bound, covariance, effectiveParameters, decrement };
}

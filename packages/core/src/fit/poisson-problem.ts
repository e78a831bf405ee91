import type { Column } from '../model/column.ts';
import type { Prior } from './eliminate.ts';
import type { Work } from './work.ts';

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

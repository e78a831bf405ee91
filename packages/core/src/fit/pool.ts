import { cholesky, inverseFromCholesky, solveCholesky } from './cholesky.ts';

/** What one spectrum says of k quantities, without any prior: information matrix and information times estimate. */
export interface Said {
  /** k × k, row-major; may be singular. */
  readonly information: Float64Array;
  readonly vector: Float64Array;
  /** Time, from -1 to 1 over the session; 0 for all when times are not known. */
  readonly time: number;
}

/** Gaussian start of each quantity: its value, its drift over half the session, and its scatter between spectra. */
export interface PoolStart {
  readonly mean: readonly number[];
  readonly sigma: readonly number[];
  /** 0 where nothing drifts. */
  readonly driftSigma: readonly number[];
  readonly scatter: readonly number[];
  /** Smallest scatter that is believed. */
  readonly leastScatter: readonly number[];
  /** Largest scatter that is believed: beyond it, spectra differ rather than scatter. No bound where absent. */
  readonly mostScatter?: readonly number[];
}

/** The quantities as a session has them. */
export interface Pool {
  readonly scatter: readonly number[];
  /** Value at a time, with its covariance (k × k, scatter included), from all that was said but by `without`. */
  at(time: number, without?: Said): { readonly mean: Float64Array; readonly covariance: Float64Array };
}

/** Steps of expectation and maximisation; the scatter changes by less than a per cent after some tens. */
const STEPS = 80;

/**
 * Values common to a session, from what each of its spectra says of them: value(t) = mean + drift · t + scatter, all Gaussian.
 * The scatter between spectra is found by maximum likelihood (EM), mean and drift by generalised least squares.
 * Source: Laird & Ware, Biometrics 38 (1982) 963 (random effects; EM).
 */
export function pool(all: readonly Said[], start: PoolStart): Pool {
  const k = start.mean.length;
  let scatter = [...start.scatter];
  for (let step = 0; step < STEPS; step++) {
    const trend = trendOf(all.map((said) => marginal(said, scatter)));
    const square = new Float64Array(k);
    for (const said of all) {
      const { mean, covariance } = deviation(said, valueAt(trend.solution, said.time, k), scatter);
      for (let j = 0; j < k; j++) square[j] += mean[j] ** 2 + covariance[j * k + j];
    }
    if (all.length > 0) {
      scatter = scatter.map((_, j) => {
        const found = Math.max(start.leastScatter[j], Math.sqrt(square[j] / all.length));
        return Math.min(start.mostScatter?.[j] ?? Infinity, found);
      });
    }
  }
  const parts = new Map(all.map((said) => [said, marginal(said, scatter)]));
  const whole = trendOf([...parts.values()]);
  return {
    scatter,
    at(time, without) {
      const { solution, covariance } =
        without && parts.has(without)
          ? trendOf([...parts].flatMap(([said, part]) => (said === without ? [] : [part])))
          : whole;
      const p = 2 * k;
      const out = new Float64Array(k * k);
      for (let i = 0; i < k; i++) {
        for (let j = 0; j < k; j++) {
          const drift = covariance[i * p + k + j] + covariance[(k + i) * p + j];
          out[i * k + j] = covariance[i * p + j] + time * drift + time * time * covariance[(k + i) * p + k + j];
        }
        out[i * k + i] += scatter[i] ** 2;
      }
      return { mean: valueAt(solution, time, k), covariance: out };
    },
  };

  /** Mean and drift (2k values) from parts whose scatter is allowed for. */
  function trendOf(parts: readonly Said[]): { solution: Float64Array; covariance: Float64Array } {
    const p = 2 * k;
    const precision = new Float64Array(p * p);
    const solution = new Float64Array(p);
    for (let j = 0; j < k; j++) {
      precision[j * p + j] = 1 / start.sigma[j] ** 2;
      solution[j] = start.mean[j] / start.sigma[j] ** 2;
      // A drift that cannot be is held at 0 by a belief far narrower than anything that is measured.
      precision[(k + j) * p + k + j] = 1 / (start.driftSigma[j] || 1e-6 * start.sigma[j]) ** 2;
    }
    for (const { information, vector, time } of parts) {
      for (let i = 0; i < k; i++) {
        for (let j = 0; j < k; j++) {
          const value = information[i * k + j];
          precision[i * p + j] += value;
          precision[i * p + k + j] += time * value;
          precision[(k + i) * p + j] += time * value;
          precision[(k + i) * p + k + j] += time * time * value;
        }
        solution[i] += vector[i];
        solution[k + i] += time * vector[i];
      }
    }
    const factor = cholesky(precision, p);
    solveCholesky(factor, p, solution);
    return { solution, covariance: inverseFromCholesky(factor, p) };
  }
}

function valueAt(solution: Float64Array, time: number, k: number): Float64Array {
  return Float64Array.from({ length: k }, (_, j) => solution[j] + time * solution[k + j]);
}

/** What a spectrum says of the common value: its scatter widens it. Λ − Λ (Λ + T⁻¹)⁻¹ Λ needs no inverse of Λ. */
function marginal({ information, vector, time }: Said, scatter: readonly number[]): Said {
  const k = vector.length;
  const inverse = widened(information, scatter);
  const through = (column: Float64Array): Float64Array => times(information, times(inverse, column));
  const out = new Float64Array(k * k);
  for (let j = 0; j < k; j++) {
    const column = Float64Array.from({ length: k }, (_, i) => information[i * k + j]);
    through(column).forEach((value, i) => (out[i * k + j] = column[i] - value));
  }
  const less = through(vector);
  return { information: out, vector: vector.map((value, i) => value - less[i]), time };
}

/** Deviation of one spectrum from the common value. */
function deviation(
  { information, vector }: Said,
  common: Float64Array,
  scatter: readonly number[],
): { mean: Float64Array; covariance: Float64Array } {
  const covariance = widened(information, scatter);
  const expected = times(information, common);
  return {
    mean: times(
      covariance,
      vector.map((value, i) => value - expected[i]),
    ),
    covariance,
  };
}

/** (Λ + T⁻¹)⁻¹. */
function widened(information: Float64Array, scatter: readonly number[]): Float64Array {
  const k = scatter.length;
  const sum = information.slice();
  scatter.forEach((value, j) => (sum[j * k + j] += 1 / value ** 2));
  return inverseFromCholesky(cholesky(sum, k), k);
}

function times(matrix: Float64Array, vector: Float64Array): Float64Array {
  const k = vector.length;
  return vector.map((_, i) => {
    let sum = 0;
    for (let j = 0; j < k; j++) sum += matrix[i * k + j] * vector[j];
    return sum;
  });
}

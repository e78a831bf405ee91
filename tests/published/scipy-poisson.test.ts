// Independent reference: general numerical routines on small problems of the same kind as the fit's.
// Source: scipy and numpy (versions in the fixture), by fixtures/make-scipy-poisson.py.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { banded } from '../../packages/core/src/arithmetic/banded.ts';
import { fitPoisson } from '../../packages/core/src/fit/poisson.ts';
import { cholesky, inverseFromCholesky } from '../../packages/core/src/fit/cholesky.ts';
import { normalEquations } from '../../packages/core/src/fit/normal.ts';
import { solveSubset } from '../../packages/core/src/fit/subset.ts';
import { columnOf } from '../../packages/core/src/model/column.ts';

interface Case {
  readonly name: string;
  readonly columns: readonly (readonly number[])[];
  readonly counts: readonly number[];
  readonly bounded: readonly number[];
  readonly prior: readonly ([number, number] | null)[];
  readonly poisson: { readonly coefficients: readonly number[]; readonly covariance: readonly number[] };
  readonly leastSquares: {
    readonly coefficients: readonly number[];
    readonly covariance: readonly number[];
    readonly nonNegative: readonly number[];
  };
}

const { cases } = JSON.parse(readFileSync(new URL('./fixtures/scipy-poisson.json', import.meta.url), 'utf8')) as {
  cases: readonly Case[];
};

/** Largest difference, relative to the largest value. */
function deviation(found: ArrayLike<number>, wanted: readonly number[]): number {
  const scale = Math.max(...wanted.map(Math.abs));
  return wanted.reduce((most, value, i) => Math.max(most, Math.abs(found[i] - value)), 0) / scale;
}

describe.each(cases)('$name', ({ columns, counts, bounded, prior, poisson, leastSquares }) => {
  const p = columns.length;
  const n = counts.length;
  const y = Float64Array.from(counts);
  const shapes = columns.map((values) => columnOf(Float64Array.from(values)));

  it('Poisson maximum likelihood: coefficients and covariance to 1e-6', () => {
    const precision = banded(p);
    const precisionMean = new Float64Array(p);
    prior.forEach((term, j) => {
      if (term === null) return;
      precision.own[j] = 1 / term[1] ** 2;
      precisionMean[j] = term[0] / term[1] ** 2;
    });
    const lower = Float64Array.from(bounded, (flag) => (flag ? 0 : -Infinity));
    const total = y.reduce((a, b) => a + b, 0);
    const start = Float64Array.from(lower, (bound) => (bound === 0 ? total / p : 0));
    const problem = { columns: shapes, counts: y, lo: 0, hi: n, lower, prior: { precision, precisionMean } };
    const fit = fitPoisson(problem, start, { tolerance: 1e-14 });
    expect(fit.converged).toBe(true);
    expect(deviation(fit.coefficients, poisson.coefficients)).toBeLessThan(1e-6);
    expect(deviation(fit.covariance, poisson.covariance)).toBeLessThan(1e-6);
  });

  const weights = y.map((count) => 1 / Math.max(count, 1));
  const normal = normalEquations(shapes, y, weights, 0, n);

  it('weighted least squares: coefficients and covariance to 1e-6', () => {
    const inverse = inverseFromCholesky(cholesky(normal.matrix, p), p);
    const solution = Float64Array.from({ length: p }, (_, i) =>
      normal.rhs.reduce((sum, value, j) => sum + inverse[i * p + j] * value, 0),
    );
    expect(deviation(solution, leastSquares.coefficients)).toBeLessThan(1e-6);
    expect(deviation(inverse, leastSquares.covariance)).toBeLessThan(1e-6);
  });

  it('non-negative least squares: amounts to 1e-6', () => {
    const problem = { size: p, G: normal.matrix, b: normal.rhs, constant: 0 };
    const { x } = solveSubset(
      problem,
      columns.map((_, j) => j),
    );
    expect(deviation(x, leastSquares.nonNegative)).toBeLessThan(1e-6);
  });
});

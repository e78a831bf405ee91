import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { banded } from '../arithmetic/banded.ts';
import { columnOf, valueAt, type Column } from '../model/column.ts';
import { poisson } from '../simulate/poisson.ts';
import { randomStream } from '../simulate/random.ts';
import { fitPoisson } from './poisson.ts';
import type { PoissonProblem } from './poisson-problem.ts';

const N = 120;
const peak = (centre: number, sigma = 5): Column =>
  columnOf(
    Float64Array.from({ length: N }, (_, i) => {
      const u = (i - centre) / sigma;
      return Math.abs(u) < 5 ? Math.exp(-0.5 * u * u) / (sigma * Math.sqrt(2 * Math.PI)) : 0;
    }),
  );
const flat = columnOf(new Float64Array(N).fill(1 / N));
const columns = [peak(30), peak(38), peak(80), flat];
const free = new Float64Array(4).fill(-Infinity);
const positive = new Float64Array(4);

const expectedOf = (truth: readonly number[]): Float64Array =>
  Float64Array.from({ length: N }, (_, i) =>
    columns.reduce((sum, column, j) => sum + truth[j] * valueAt(column, i), 0),
  );
const problemOf = (counts: Float64Array, lower: Float64Array): PoissonProblem => ({
  columns,
  counts,
  lo: 0,
  hi: N,
  lower,
  prior: null,
});
const drawn = (truth: readonly number[], seed: number): Float64Array => {
  const random = randomStream(seed, 0);
  return expectedOf(truth).map((mean) => poisson(mean, random));
};

describe('the Poisson fit', () => {
  it('finds the coefficients of counts without noise, from any start', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 1, max: 1e7, noNaN: true }), { minLength: 4, maxLength: 4 }),
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        (truth, away) => {
          const start = Float64Array.from(truth, (value) => value * away);
          const fit = fitPoisson(problemOf(expectedOf(truth), positive), start, { tolerance: 1e-10 });
          expect(fit.converged).toBe(true);
          truth.forEach((value, j) => {
            const sigma = Math.sqrt(fit.covariance[j * 4 + j]);
            expect(Math.abs(fit.coefficients[j] - value)).toBeLessThan(1e-4 * sigma);
          });
        },
      ),
      { seed: 3, numRuns: 60 },
    );
  });

  it('meets the conditions of the bounded maximum: no slope inside, none inwards at a bound', () => {
    for (let seed = 1; seed <= 40; seed++) {
      const counts = drawn([0, 50, 0, 40], seed);
      const fit = fitPoisson(problemOf(counts, positive), new Float64Array(4).fill(20), { tolerance: 1e-12 });
      expect(fit.converged).toBe(true);
      columns.forEach((column, j) => {
        const slope = counts.reduce((sum, count, i) => sum + valueAt(column, i) * (count / fit.expected[i] - 1), 0);
        if (fit.bound[j]) expect(slope).toBeLessThan(1e-6);
        else expect(Math.abs(slope)).toBeLessThan(1e-5);
        expect(fit.coefficients[j] === 0).toBe(fit.bound[j] === 1);
      });
    }
  });

  it('comes to the same maximum from rough expected counts', () => {
    const counts = drawn([900, 400, 10, 3000], 8);
    const slow = fitPoisson(problemOf(counts, positive), new Float64Array(4).fill(1), { tolerance: 1e-12 });
    const roughly = counts.map((count) => count + 1);
    const fast = fitPoisson(problemOf(counts, positive), new Float64Array(4), { tolerance: 1e-12, roughly });
    slow.coefficients.forEach((value, j) => expect(Math.abs(fast.coefficients[j] - value)).toBeLessThan(1e-4));
    expect(fast.iterations).toBeLessThanOrEqual(slow.iterations);
  });

  it('keeps the total: with a flat column free, expected and measured counts are the same', () => {
    const counts = drawn([900, 400, 10, 3000], 7);
    const { expected } = fitPoisson(problemOf(counts, free), new Float64Array(4).fill(1000));
    const sum = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);
    expect(Math.abs(sum(expected) / sum(counts) - 1)).toBeLessThan(1e-6);
  });

  it('weighs a prior against the counts as a measurement of its own', () => {
    const counts = expectedOf([1000, 0, 0, 1000]);
    const alone = fitPoisson(problemOf(counts, free), new Float64Array(4).fill(100));
    const sigma = Math.sqrt(alone.covariance[0]);
    const precisionMean = new Float64Array(4);
    const precision = banded(4, Float64Array.of(1 / sigma ** 2, 0, 0, 0));
    precisionMean[0] = (1000 + 2 * sigma) / sigma ** 2;
    const fit = fitPoisson({ ...problemOf(counts, free), prior: { precision, precisionMean } }, alone.coefficients);
    // Two equal weights meet half way; the information itself moves a little with the counts expected.
    expect(Math.abs((fit.coefficients[0] - 1000) / sigma - 1)).toBeLessThan(0.05);
    expect(Math.abs(fit.covariance[0] / alone.covariance[0] - 0.5)).toBeLessThan(0.02);
    expect(Math.abs(alone.effectiveParameters - 4)).toBeLessThan(1e-6);
    expect(Math.abs(fit.effectiveParameters - 3.5)).toBeLessThan(0.02);
  });

  it('is unbiased and as sharp as its covariance says, down to 60 counts', () => {
    const truth = [40, 0, 0, 20];
    const pulls: number[] = [];
    for (let seed = 0; seed < 400; seed++) {
      const fit = fitPoisson(
        { ...problemOf(drawn(truth, 1000 + seed), free.slice(0, 2)), columns: [columns[0], flat] },
        Float64Array.of(30, 30),
      );
      pulls.push((fit.coefficients[0] - 40) / Math.sqrt(fit.covariance[0]));
    }
    const mean = pulls.reduce((a, b) => a + b, 0) / pulls.length;
    const variance = pulls.reduce((a, b) => a + (b - mean) ** 2, 0) / pulls.length;
    // 400 draws: the mean is known to 0.05, the variance to 7 %; small numbers skew the pulls by about 0.1.
    expect(Math.abs(mean)).toBeLessThan(0.25);
    expect(Math.abs(variance - 1)).toBeLessThan(0.25);
  });
});

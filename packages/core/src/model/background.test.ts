import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { valueAt } from './column.ts';
import { banded, bandedProduct } from '../arithmetic/banded.ts';
import { addSmoothness, backgroundColumns, KNOT_STEP } from './background.ts';

const n = 1024;
const energyEv = Float64Array.from({ length: n }, (_, i) => 10 + 20 * i);
const continuum = energyEv.map((energy) => (1e4 * (20_600 - energy)) / energy);

describe('background columns', () => {
  it('with coefficients of 1 are the continuum itself, over any range, and nothing outside it', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 900 }), fc.integer({ min: 1, max: n }), (lo, width) => {
        const hi = Math.min(n, lo + width);
        const columns = backgroundColumns(continuum, energyEv, lo, hi);
        for (let i = 0; i < n; i++) {
          const sum = columns.reduce((total, column) => total + valueAt(column, i), 0);
          const expected = i >= lo && i < hi ? continuum[i] : 0;
          expect(Math.abs(sum - expected)).toBeLessThanOrEqual(1e-12 * continuum[i]);
        }
      }),
      { seed: 3, numRuns: 40 },
    );
  });

  it('reproduce a factor linear in ln(energy): coefficients on a line, as cubic splines do', () => {
    const columns = backgroundColumns(continuum, energyEv, 5, n);
    for (const i of [5, 77, 500, n - 1]) {
      const sum = columns.reduce((total, column, k) => total + (k - 1) * valueAt(column, i), 0);
      const factor = Math.log(energyEv[i] / energyEv[5]) / KNOT_STEP;
      expect(Math.abs(sum / continuum[i] - factor)).toBeLessThan(1e-9);
    }
  });
});

describe('smoothness prior', () => {
  it('costs nothing but the very wide bound where coefficients lie on a line, and much where one sticks out', () => {
    const count = 8;
    const precision = banded(count);
    addSmoothness(precision, 0, count, 2);
    const cost = (c: readonly number[]): number =>
      c.reduce((sum, a, i) => sum + a * bandedProduct(precision, i, Float64Array.from(c)), 0);
    expect(cost([1, 2, 3, 4, 5, 6, 7, 8])).toBeLessThan(0.01);
    expect(cost([1, 2, 3, 4, 6, 6, 7, 8])).toBeGreaterThan(5);
  });
});

// Source: scipy 1.10.1, special.erfc (fixture); M. Abramowitz, I.A. Stegun, Handbook of Mathematical Functions (1964), Table 7.1.
import { describe, expect, it } from 'vitest';
import { erfc } from '../../packages/core/src/detector/error-function.ts';
import { readTable } from './fixtures/read-table.ts';

describe('erfc', () => {
  it('of scipy from -8 to 26.5: absolute error below 1e-13, relative below 1e-8', () => {
    const rows = readTable('scipy-erfc.csv').map((row) => ({ x: Number(row['x']), value: Number(row['erfc']) }));
    expect(rows.length).toBeGreaterThan(20);
    for (const { x, value } of rows) {
      const error = Math.abs(erfc(x) - value);
      if (!(error < 1e-13 && error <= 1e-8 * value)) expect.fail(`erfc(${x}) = ${erfc(x)}, scipy ${value}`);
    }
  });

  // Table 7.1, from memory: erf 0.5 = 0.5204998778, erf 1 = 0.8427007929, erf 2 = 0.9953222650.
  it.each([
    [0.5, 0.5204998778],
    [1, 0.8427007929],
    [2, 0.995322265],
  ])('1 - erf(%d), ten digits of Abramowitz & Stegun', (x, erf) => {
    expect(Math.abs(1 - erfc(x) - erf)).toBeLessThan(6e-11);
  });
});

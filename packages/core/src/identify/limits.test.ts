import { describe, expect, it } from 'vitest';
import { amountFound } from './limits.ts';

/** Standard normal distribution, Abramowitz & Stegun, Handbook of Mathematical Functions (1964), Table 26.1: P(1.6449) = 0.95. */
const QUANTILE_95 = 1.6449;

describe('the amount that is found in 95 % of cases', () => {
  // Currie, Anal. Chem. 40 (1968) 586, Eq. 7: critical level and detection limit are each 1.645 standard deviations apart, 3.29 in all.
  it('is 3.29 standard deviations where 1.645 are asked, as in Currie’s limit', () => {
    expect(amountFound(QUANTILE_95 * 0.02, 0.02, Infinity) / 0.02).toBeCloseTo(3.29, 3);
  });

  it.each([
    [4, 1, 1e9],
    [6, 0.5, 40],
    [0.03, 0.004, 2e4],
  ])(
    'lies that far above what is asked (%d), its own counts scattering too (sigma %d, %d counts per unit)',
    (...given) => {
      const [asked, sigma, counts] = given;
      const amount = amountFound(asked, sigma, counts);
      // The amount comes of a few rounds: a hundredth of a standard deviation is left.
      expect(Math.abs((amount - asked) / Math.hypot(sigma, Math.sqrt(amount / counts)) - QUANTILE_95)).toBeLessThan(
        0.01,
      );
    },
  );

  it('is finite for what brings no counts of its own', () => {
    expect(amountFound(5, 2, 0)).toBeCloseTo(5 + QUANTILE_95 * 2, 3);
  });

  it.each([
    [6, 1, 1e9, 0.25],
    [6, 0.5, 40, 0.1],
    [0.03, 0.004, 2e4, 0.3],
  ])(
    'lies higher where its lines may be weaker than thought (%d, sigma %d, %d counts per unit, doubt %d)',
    (...given) => {
      const [asked, sigma, counts, physics] = given;
      const amount = amountFound(asked, sigma, counts, physics);
      const spread = Math.hypot(sigma, Math.sqrt(amount / counts), physics * amount);
      expect(Math.abs((amount - asked) / spread - QUANTILE_95)).toBeLessThan(0.02);
      expect(amount).toBeGreaterThan(amountFound(asked, sigma, counts));
    },
  );

  it('needs no more than its own scatter where nothing scatters the counts', () => {
    expect(amountFound(5, 0, Infinity)).toBe(5);
  });
});

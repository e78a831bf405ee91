import { describe, expect, it } from 'vitest';
import { cash, cashMoments, expectedCash } from './cash.ts';

describe('Cash statistic', () => {
  it('is zero where the model equals the counts, and 2m where there are none', () => {
    expect(cash(Float64Array.of(3, 8, 0), Float64Array.of(3, 8, 2), 0, 3)).toBeCloseTo(4, 12);
  });

  // Exact expectations listed with Kaastra, Astron. Astrophys. 605 (2017) A51 (checked there against the exact Poisson sum).
  it.each([
    [0.1, 0.4741],
    [0.5, 1.007],
    [1, 1.1468],
    [2, 1.1394],
    [5, 1.0467],
    [10, 1.0188],
    [100, 1.0017],
  ])('has the published expectation at a mean of %d counts', (mu, expected) => {
    expect(Math.abs(cashMoments(mu).mean - expected)).toBeLessThan(2e-4);
  });

  it('keeps mean and variance continuous where the exact sum ends', () => {
    const below = cashMoments(9.999999);
    const above = cashMoments(10.000001);
    expect(Math.abs(below.mean / above.mean - 1)).toBeLessThan(2e-4);
    expect(Math.abs(below.variance / above.variance - 1)).toBeLessThan(5e-3);
  });

  it('has the variance of the Poisson distribution itself', () => {
    for (const mean of [0.3, 2, 9, 12, 60]) {
      let [probability, sum, square] = [Math.exp(-mean), 0, 0];
      for (let n = 0; n < 400; n++) {
        if (n > 0) probability *= mean / n;
        const c = 2 * (mean - n + (n > 0 ? n * Math.log(n / mean) : 0));
        [sum, square] = [sum + probability * c, square + probability * c * c];
      }
      expect(Math.abs(cashMoments(mean).variance / (square - sum ** 2) - 1)).toBeLessThan(5e-3);
      expect(Math.abs(cashMoments(mean).mean / sum - 1)).toBeLessThan(3e-4);
    }
  });

  it('expects nothing of channels where nothing is expected, and adds up over the others', () => {
    expect([cashMoments(0), cashMoments(-1)]).toEqual(Array(2).fill({ mean: 0, variance: 0 }));
    const { mean, variance } = expectedCash(Float64Array.of(5, 1, 0, 50, 5), 1, 4);
    expect(mean).toBeCloseTo(cashMoments(1).mean + cashMoments(50).mean, 12);
    expect(variance).toBeCloseTo(cashMoments(1).variance + cashMoments(50).variance, 12);
  });
});

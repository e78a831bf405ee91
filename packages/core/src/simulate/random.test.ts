import { describe, expect, it } from 'vitest';
import { lnFactorial, poisson } from './poisson.ts';
import { randomStream, xoshiro128 } from './random.ts';

describe('xoshiro128**', () => {
  // First three steps from state 1, 2, 3, 4, worked by hand from the published recurrence.
  it('gives the numbers of its definition', () => {
    const next = xoshiro128(Uint32Array.of(1, 2, 3, 4));
    expect([next(), next(), next()]).toEqual([11520, 0, 5927040]);
  });
});

describe('randomStream', () => {
  it('repeats for a seed, differs between seeds and purposes, also beyond 32 bits', () => {
    const first = (seed: number, purpose: number): number => randomStream(seed, purpose).uniform();
    expect(first(1, 0)).toBe(first(1, 0));
    const all = [first(1, 0), first(2, 0), first(1, 1), first(2 ** 32 + 1, 0), first(-1, 0), first(0, 0)];
    expect(new Set(all).size).toBe(all.length);
  });

  it('is uniform and normal: moments of 200 000 numbers within five standard errors', () => {
    const random = randomStream(5, 0);
    const n = 200_000;
    const [u, g] = [
      Float64Array.from({ length: n }, () => random.uniform()),
      Float64Array.from({ length: n }, () => random.normal()),
    ];
    const moment = (values: Float64Array, k: number): number => values.reduce((a, x) => a + x ** k, 0) / n;
    expect(Math.abs(moment(u, 1) - 0.5)).toBeLessThan((5 * Math.sqrt(1 / 12)) / Math.sqrt(n));
    expect(Math.abs(moment(u, 2) - 1 / 3)).toBeLessThan((5 * Math.sqrt(4 / 45)) / Math.sqrt(n));
    expect(Math.abs(moment(g, 1))).toBeLessThan(5 / Math.sqrt(n));
    expect(Math.abs(moment(g, 2) - 1)).toBeLessThan((5 * Math.sqrt(2)) / Math.sqrt(n));
    expect(Math.abs(moment(g, 4) - 3)).toBeLessThan((5 * Math.sqrt(96)) / Math.sqrt(n));
  });
});

describe('poisson', () => {
  // Chi-square against the exact distribution, cells of at least 20 expected; the limit is the mean plus five standard deviations.
  it.each([0.05, 0.7, 3, 11.9, 12.1, 40, 300, 20_000])('mean %d follows the exact distribution', (mean) => {
    const random = randomStream(77, 0);
    const n = 60_000;
    const seen = new Map<number, number>();
    for (let i = 0; i < n; i++) {
      const k = poisson(mean, random);
      seen.set(k, (seen.get(k) ?? 0) + 1);
    }
    let [chi2, cells, expected, observed] = [0, 0, 0, 0];
    const last = Math.ceil(mean + 10 * Math.sqrt(mean) + 10);
    for (let k = Math.max(0, Math.floor(mean - 10 * Math.sqrt(mean) - 10)); k <= last; k++) {
      expected += n * Math.exp(k * Math.log(mean) - mean - lnFactorial(k));
      observed += seen.get(k) ?? 0;
      if (expected < 20) continue;
      chi2 += (observed - expected) ** 2 / expected;
      cells++;
      [expected, observed] = [0, 0];
    }
    expect(cells).toBeGreaterThan(1);
    expect(chi2).toBeLessThan(cells - 1 + 5 * Math.sqrt(2 * (cells - 1)));
  });

  it('of 0 is 0', () => expect(poisson(0, randomStream(1, 0))).toBe(0));
});

describe('lnFactorial', () => {
  it('joins sum and series', () => {
    for (const k of [15, 16, 20, 100, 1000])
      expect(Math.abs(lnFactorial(k) - lnFactorial(k - 1) - Math.log(k))).toBeLessThan(1e-9);
    expect(Math.abs(lnFactorial(20) - Math.log(2432902008176640000))).toBeLessThan(1e-9);
  });
});

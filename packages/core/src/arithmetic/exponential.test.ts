import { describe, expect, it } from 'vitest';
import { exp, expm1, log, log1p } from './exponential.ts';

/** Evenly from a to b. */
const between = (a: number, b: number, n = 5000): number[] =>
  Array.from({ length: n }, (_, i) => a + ((b - a) * (i + 0.5)) / n);
/** The largest relative difference from the engine's own function, which is right to its last bit or two. */
const worst = (own: (x: number) => number, engine: (x: number) => number, at: readonly number[]): number =>
  at.reduce((most, x) => Math.max(most, Math.abs(own(x) / engine(x) - 1)), 0);

describe('exponential and logarithm', () => {
  it('are right to 5e-16', () => {
    for (const range of [between(-700, 709.7), between(-3, 3), between(-1e-3, 1e-3)])
      expect(worst(exp, Math.exp, range)).toBeLessThan(5e-16);
    const wide = between(-690, 700).map(Math.exp);
    for (const range of [wide, between(0.5, 2), between(1 - 1e-6, 1 + 1e-6)])
      expect(worst(log, Math.log, range)).toBeLessThan(5e-16);
  });

  it('less 1, and of 1 and little more, lose no digits', () => {
    for (const range of [between(-3, 3), between(-1e-9, 1e-9), between(-40, 40)])
      expect(worst(expm1, Math.expm1, range)).toBeLessThan(7e-16);
    for (const range of [between(-0.9, 3), between(-1e-9, 1e-9)])
      expect(worst(log1p, Math.log1p, range)).toBeLessThan(7e-16);
  });

  it('have the usual ends, and numbers up to them', () => {
    expect([exp(0), exp(710), exp(-800), exp(Infinity), exp(-Infinity), exp(NaN)]).toEqual([
      1,
      Infinity,
      0,
      Infinity,
      0,
      NaN,
    ]);
    // From the least number to where the exponential is less: once a table ended there.
    for (const x of between(-745.2, -744, 2000)) expect(exp(x)).toBeLessThanOrEqual(1e-323);
    for (const x of between(709.6, 709.7827, 2000)) expect(exp(x)).toBeGreaterThan(1e308);
    expect([log(1), log(0), log(-1), log(Infinity), log(NaN)]).toEqual([0, -Infinity, NaN, Infinity, NaN]);
    for (const x of [5e-324, 1e-310, 1e-300, Number.MAX_VALUE])
      expect(Math.abs(log(x) / Math.log(x) - 1)).toBeLessThan(5e-16);
    expect([expm1(-800), expm1(0), log1p(0), log1p(-1)]).toEqual([-1, 0, 0, -Infinity]);
  });
});

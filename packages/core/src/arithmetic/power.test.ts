import { describe, expect, it } from 'vitest';
import { power } from './power.ts';

/** The exact power of a whole number over 8, rounded once to a double. */
const exact = (numerator: bigint, exponent: number): number => Number(numerator ** BigInt(exponent)) / 8 ** exponent;
/** The stated error, and what the test itself rounds. */
const bound = (base: number, exponent: number): number =>
  2.3e-16 * (2 + 1.5 * Math.abs(exponent * Math.log(base))) + 3.4e-16;

describe('power', () => {
  it('is within its stated error of exact powers', () => {
    for (const numerator of [1n, 3n, 7n, 8n, 9n, 80n, 999n, 8200n, 65_537n]) {
      const base = Number(numerator) / 8;
      for (const exponent of [1, 2, 3, 5, 11, 20]) {
        const wanted = exact(numerator, exponent);
        expect(Math.abs(power(base, exponent) / wanted - 1)).toBeLessThanOrEqual(bound(base, exponent));
        expect(Math.abs(power(base, -exponent) * wanted - 1)).toBeLessThanOrEqual(bound(base, exponent));
      }
    }
  });

  it('gives square roots and their powers', () => {
    for (const base of [0.01, 0.5, 2, 3, 1e6]) {
      expect(Math.abs(power(base, 0.5) / Math.sqrt(base) - 1)).toBeLessThanOrEqual(bound(base, 0.5));
      expect(Math.abs(power(base, 1.5) / (base * Math.sqrt(base)) - 1)).toBeLessThanOrEqual(bound(base, 1.5));
    }
  });

  it('has the usual ends', () => {
    expect([power(0, 1.3), power(0, -1), power(0, 0), power(1, 5), power(5, 0), power(Infinity, 2)]).toEqual([
      0,
      Infinity,
      1,
      1,
      1,
      Infinity,
    ]);
  });
});

import { describe, expect, it } from 'vitest';
import { atomicWeight, elementName, MAX_Z, symbolOf, zOf } from './elements.ts';

describe('elements', () => {
  it('goes from symbol to number and back', () => {
    for (let z = 1; z <= MAX_Z; z++) expect(zOf(symbolOf(z))).toBe(z);
    expect([symbolOf(1), symbolOf(82), symbolOf(98), elementName(82)]).toEqual(['H', 'Pb', 'Cf', 'lead']);
  });

  it('is case-sensitive and knows no other symbols', () => {
    expect([zOf('pb'), zOf('PB'), zOf('Xx'), zOf(''), zOf('toString')]).toEqual(Array(5).fill(undefined));
  });

  it('refuses numbers outside the table', () => {
    for (const z of [0, -1, MAX_Z + 1, 1.5, NaN]) expect(() => symbolOf(z)).toThrow(/atomic number/);
  });

  // Blue Obelisk Data Repository (Debian package bodr 10), a listing that did not feed ours.
  it.each([
    [1, 1.008],
    [6, 12.011],
    [8, 15.999],
    [14, 28.0855],
    [20, 40.078],
    [26, 55.845],
    [30, 65.38],
    [47, 107.8682],
    [56, 137.327],
    [80, 200.592],
    [82, 207.2],
    [92, 238.02891],
  ])('weight of z %i is %d within 0.005 %%', (z, weight) => {
    expect(Math.abs(atomicWeight(z) / weight - 1)).toBeLessThan(5e-5);
  });
});

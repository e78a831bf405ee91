import { describe, expect, it } from 'vitest';
import { simulate } from '../simulate/simulate.ts';
import { identify } from './identify.ts';

const axis = { offsetEv: 0, gainEv: 10 };

// Two heavy elements whose M and L lines lie within a line's width, at a beam energy that leaves them no others: the first rounds fit badly
// on the right axis, and a wrong one with other elements fits fairly (physics bent as in tests/statistics/verdicts/limits.mjs).
describe('an axis stated rightly', () => {
  it.each([
    ['Au', 'Zr', 8, 5],
    ['Pt', 'Zr', 10, 3],
  ])('is not left for another one in %s with %s at %d keV', (heavy, other, beamKev, seed) => {
    const composition = [heavy, other, 'CO'].map((formula, k) => ({ formula, massFraction: k < 2 ? 0.486 : 0.028 }));
    const bends = { seed, lineRatio: 0.08, family: 0.2, offsetEv: 8, gain: 0.002, noise: 0.05, tail: 0.3 };
    const { counts, ...rest } = simulate(
      { composition },
      { beamKev, takeOffDeg: 35, totalCounts: 420_000, seed, channels: 1024, axis, perturb: bends },
    );
    const { elements, warnings } = identify({ ...rest, counts, axis });
    const present = elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol);
    expect(warnings.map(({ code }) => code)).not.toContain('axis-corrected');
    expect(present).toEqual(expect.arrayContaining([heavy, other]));
    expect([heavy, other, 'C', 'O']).toEqual(expect.arrayContaining(present));
  });
});

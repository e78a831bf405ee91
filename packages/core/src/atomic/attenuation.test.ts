import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { massAttenuation, matrixAttenuation } from './attenuation.ts';
import { massFractionsOf, mixture } from './composition.ts';
import { MAX_Z } from './elements.ts';
import { edgeEv } from './shells.ts';

const element = fc.integer({ min: 1, max: MAX_Z });
const energy = fc.double({ min: 30, max: 50_000, noNaN: true });

describe('mass attenuation', () => {
  it('is positive and finite for every element, also outside the grid', () => {
    for (let z = 1; z <= MAX_Z; z++) {
      for (const ev of [10, 30, 99.99, 100, 1000, 49_999, 60_000]) {
        expect(massAttenuation(z, ev)).toBeGreaterThan(0);
        expect(massAttenuation(z, ev)).toBeLessThan(Infinity);
      }
    }
  });

  it('jumps at the K edge, and only there', () => {
    const edge = edgeEv(26, 0);
    expect(massAttenuation(26, edge + 0.1) / massAttenuation(26, edge - 0.1)).toBeGreaterThan(7);
    expect(massAttenuation(26, edge - 0.1) / massAttenuation(26, edge - 5)).toBeLessThan(1);
    expect(massAttenuation(26, edge + 5) / massAttenuation(26, edge + 0.1)).toBeLessThan(1);
  });

  it('has no jump at 100 eV, where the two tables join', () => {
    for (let z = 1; z <= MAX_Z; z++) {
      expect(Math.abs(Math.log(massAttenuation(z, 100.05) / massAttenuation(z, 99.95))), `z ${z}`).toBeLessThan(0.02);
    }
  });

  it('of a pure matrix is that of the element; of a mixture lies between its parts', () => {
    fc.assert(
      fc.property(element, element, energy, fc.double({ min: 0.01, max: 0.99, noNaN: true }), (a, b, ev, share) => {
        const fractions = new Float64Array(MAX_Z + 1);
        fractions[a] += share;
        fractions[b] += 1 - share;
        const parts = [massAttenuation(a, ev), massAttenuation(b, ev)];
        const mixed = matrixAttenuation(fractions, ev);
        expect(mixed).toBeGreaterThanOrEqual(Math.min(...parts) * (1 - 1e-12));
        expect(mixed).toBeLessThanOrEqual(Math.max(...parts) * (1 + 1e-12));
      }),
      { seed: 12, numRuns: 200 },
    );
  });

  it('adds by mass', () => {
    const parts = [massFractionsOf('PbCO3'), massFractionsOf('Pb(OH)2')].map((part) => matrixAttenuation(part, 5000));
    const both = mixture([
      { formula: 'PbCO3', massFraction: 0.25 },
      { formula: 'Pb(OH)2', massFraction: 0.75 },
    ]);
    expect(matrixAttenuation(both, 5000) / (0.25 * parts[0] + 0.75 * parts[1])).toBeCloseTo(1, 12);
  });

  it('refuses an unknown element', () => {
    for (const z of [0, MAX_Z + 1, NaN]) expect(() => massAttenuation(z, 1000)).toThrow(RangeError);
  });
});

import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../atomic/composition.ts';
import { LINE_TABLE } from '../atomic/lines.ts';
import type { FittedElement } from '../fit/fitted-elements.ts';
import { massFractions } from './amounts.ts';
import { oxygenPerMass } from '../atomic/oxides.ts';

const areas = new Float64Array(LINE_TABLE.count).fill(1);
const fitted = (parts: readonly (readonly [number, number])[]): FittedElement[] =>
  parts.map(([z, amount]) => ({
    z,
    amount,
    sigma: 0.02 * amount,
    inflation: 1,
    countsPerAmount: 1,
    correlations: [],
  }));

describe('mass fractions', () => {
  it('sum to 1, with counting and physics that make up sigma', () => {
    const out = massFractions(
      fitted([
        [8, 3],
        [14, 2],
        [20, 5],
      ]),
      areas,
    );
    expect([...out.values()].reduce((sum, { value }) => sum + value, 0)).toBeCloseTo(1, 12);
    for (const { sigma, counting, physics } of out.values()) {
      expect(Math.abs(Math.hypot(counting!, physics!) / sigma - 1)).toBeLessThan(1e-12);
      expect(physics).toBeGreaterThan(counting!);
    }
  });

  it.each(['SiO2', 'Al2O3', 'CaO', 'Fe2O3', 'PbO', 'SnO2', 'Na2O'])(
    'of %s with oxygen by oxides are its formula, whatever the oxygen line said',
    (oxide) => {
      const formula = massFractionsOf(oxide);
      const metal = formula.findIndex((fraction, z) => fraction > 0 && z !== 8);
      for (const line of [0.1, 10]) {
        const out = massFractions(
          fitted([
            [8, line],
            [metal, 1],
          ]),
          areas,
          'oxides',
        );
        expect(Math.abs(out.get(metal)!.value / formula[metal] - 1)).toBeLessThan(1e-9);
        expect(Math.abs(out.get(8)!.value / formula[8] - 1)).toBeLessThan(1e-9);
      }
    },
  );

  it('know no oxide of chlorine, and none of oxygen', () => {
    expect(oxygenPerMass(17)).toBe(0);
    expect(oxygenPerMass(8)).toBe(0);
  });
});

// Source: xraylib 4.0.0 (Debian), total attenuation through the layers of every preset, made by make-detector-fixtures.py with
// compositions, densities and thicknesses of its own. It shows that layers, units and presets are what they say.
import { describe, expect, it } from 'vitest';
import { efficiency } from '../../packages/core/src/detector/efficiency.ts';
import { DETECTORS, type DetectorName } from '../../packages/core/src/detector/presets.ts';
import { readTable } from './fixtures/read-table.ts';

describe('efficiency of the presets', () => {
  const rows = readTable('xraylib-efficiency.csv').map((row) => ({
    name: row['detector'] as DetectorName,
    energyEv: Number(row['energy_ev']),
    expected: Number(row['efficiency']),
  }));

  it('has values for every preset', () => {
    expect(new Set(rows.map(({ name }) => name))).toEqual(new Set(Object.keys(DETECTORS)));
  });

  it.each(Object.keys(DETECTORS) as DetectorName[])(
    '%s: within 0.5 %% of the value and 0.5 %% of the optical depth (the grid of our table is good to 0.4 %%)',
    (name) => {
      const values = rows.filter((row) => row.name === name);
      expect(values.length).toBeGreaterThan(20);
      for (const { energyEv, expected } of values) {
        const found = efficiency(DETECTORS[name], energyEv);
        const allowed = 0.005 * expected * (1 - Math.log(expected));
        if (!(Math.abs(found - expected) <= Math.max(allowed, 1e-9)))
          expect.fail(`${energyEv} eV: ${found}, xraylib ${expected}`);
      }
    },
  );

  it('gold contact of 22 nm (SIXA, a Si(Li) array, measured 22.4 +- 3.5 nm): its M4 and M3 edges show', () => {
    const gold = DETECTORS['lithium-beryllium'];
    const step = (edge: number): number => efficiency(gold, edge + 3) / efficiency(gold, edge - 3);
    // M4 and M3, X-Ray Data Booklet, Table 1-1. Absorption by M5 sets in slowly from 2206 eV: no step there.
    for (const edge of [2291, 2743]) expect(step(edge)).toBeLessThan(0.995);
    const bare = { ...gold, contactNm: 0 };
    expect(efficiency(bare, 2746) / efficiency(bare, 2740)).toBeGreaterThan(0.999);
  });
});

import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../../atomic/composition.ts';
import { atomicWeight, zOf } from '../../atomic/elements.ts';
import { LINE_TABLE, lineAt } from '../../atomic/lines.ts';
import { fluorescenceYield } from '../../atomic/shells.ts';
import { ionisationCrossSection } from '../electrons/cross-section.ts';
import { createFoilEmission } from './foil.ts';

const matrix = massFractionsOf('SiO2');
const foil = createFoilEmission(200_000, 20);
const lines = foil.lines(matrix);
const sum = (z: number, values: Float64Array, keep: (iupac: string) => boolean): number => {
  let total = 0;
  for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) if (keep(lineAt(i).iupac)) total += values[i];
  return total;
};

describe('emission of a foil', () => {
  it.each(['O', 'Si', 'Fe', 'Cu'])('%s K: cross section times yield per gram, over the full sphere', (symbol) => {
    const z = zOf(symbol)!;
    const expected =
      (6.02214076e23 / atomicWeight(z)) * ionisationCrossSection(z, 0, 200_000) * fluorescenceYield(z, 0);
    const emitted = sum(z, lines, (iupac) => iupac.startsWith('K')) * 4 * Math.PI;
    expect(Math.abs(emitted / expected - 1)).toBeLessThan(1e-3);
  });

  it('does not depend on the matrix, and is 0 for elements not asked for', () => {
    expect(foil.lines(massFractionsOf('Au'))).toEqual(lines);
    const wanted = new Uint8Array(LINE_TABLE.first.length);
    wanted[26] = 1;
    const only = foil.lines(matrix, wanted);
    expect(sum(26, only, () => true)).toBe(sum(26, lines, () => true));
    expect(sum(29, only, () => true)).toBe(0);
  });

  it('has a continuum that falls as 1/E and grows as Z2/A', () => {
    const energies = Float64Array.from([1000, 2000, 8000]);
    const [a, b, c] = foil.continuum(matrix, energies);
    expect(Math.abs(a / b - 2)).toBeLessThan(1e-9);
    expect(Math.abs(a / c - 8)).toBeLessThan(1e-9);
    const [gold] = foil.continuum(massFractionsOf('Au'), energies);
    const [carbon] = foil.continuum(massFractionsOf('C'), energies);
    const expected = 79 ** 2 / atomicWeight(79) / (36 / atomicWeight(6));
    expect(Math.abs(gold / carbon / expected - 1)).toBeLessThan(1e-9);
  });
});

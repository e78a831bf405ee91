import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../atomic/composition.ts';
import { LINE_TABLE } from '../atomic/lines.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { createEmission } from '../emission/thick/characteristic.ts';
import { lineAreas } from '../model/templates.ts';
import { correctedMatrix } from './matrix-correction.ts';
import { fractions } from './mass-fractions.ts';

const instrument = { axis: { offsetEv: 0, gainEv: 10 }, detector: DEFAULT_DETECTOR };

/** What a fit in the matrix `made` finds of a specimen: amounts that give each element's detected area. */
function foundIn(made: Float64Array, specimen: Float64Array, beamEv: number) {
  const emission = createEmission(beamEv, 35);
  const zs = [...specimen.keys()].filter((z) => specimen[z] > 0);
  const areasIn = (matrix: Float64Array): Float64Array => lineAreas(emission.lines(matrix), instrument, zs);
  const areaOf = (z: number, areas: Float64Array): number =>
    areas.subarray(LINE_TABLE.first[z], LINE_TABLE.first[z + 1]).reduce((a, b) => a + b, 0);
  const [areas, own] = [areasIn(made), areasIn(specimen)];
  const amounts = Float64Array.from(zs, (z) => (7 * specimen[z] * areaOf(z, own)) / areaOf(z, areas));
  return { emission, found: { zs, amounts, areas, fractions: (of: Float64Array) => fractions(zs, of, made) } };
}

const furthest = (a: Float64Array, b: Float64Array): number => Math.max(...a.map((value, z) => Math.abs(value - b[z])));

describe('the matrix correction', () => {
  it.each([
    ['PbCO3', 'SiO2', 15],
    ['CuCO3', 'Cu3CO9', 20],
    ['Al2Si2O5', 'Fe2O3', 10],
    ['CaSO4', 'C', 15],
  ])('finds %s from areas that a fit with the matrix %s gives, at %d kV', (formula, made, beamKev) => {
    const specimen = massFractionsOf(formula);
    const { emission, found } = foundIn(massFractionsOf(made), specimen, 1000 * beamKev);
    const corrected = correctedMatrix(emission, instrument, found);
    // The last step is below 1e-3, and what is left to go is a part of it.
    expect(furthest(corrected, specimen)).toBeLessThan(2e-3);
    // One fit alone is further off, by far where absorption differs.
    expect(furthest(found.fractions(found.amounts), specimen)).toBeGreaterThan(5e-3);
  });

  it('stays where the matrix gives itself back', () => {
    const specimen = massFractionsOf('PbCO3');
    const { emission, found } = foundIn(specimen, specimen, 15_000);
    expect(furthest(correctedMatrix(emission, instrument, found), specimen)).toBeLessThan(1e-12);
  });

  it('leaves a matrix of nothing as it was', () => {
    const specimen = massFractionsOf('SiO2');
    const { emission, found } = foundIn(specimen, specimen, 15_000);
    const nothing = { ...found, amounts: new Float64Array(found.zs.length) };
    expect(correctedMatrix(emission, instrument, nothing)).toEqual(specimen);
  });
});

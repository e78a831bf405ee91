import { describe, expect, it } from 'vitest';
import { massFractionsOf, type MassFractions, mixture } from '../../atomic/composition.ts';
import { zOf } from '../../atomic/elements.ts';
import { matrixMeans } from './depth-distribution.ts';
import { createFluorescence } from './fluorescence.ts';
import { type GeneratedLines, generatedLines } from './generated-lines.ts';
import { matrixLineAttenuation } from './line-attenuation.ts';
import { createSlowingDown } from '../electrons/slowing-down.ts';

const CHI = 200;

/** Part that fluorescence adds to a subshell, before absorption of the direct photons. */
function added(matrix: MassFractions, symbol: string, s: number, beamEv: number, attenuation = 1): number {
  const [slowing, means] = [createSlowingDown(beamEv), matrixMeans(matrix)];
  const make = (z: number): GeneratedLines =>
    generatedLines(z, beamEv, means, slowing, slowing.reciprocalStopping(matrix));
  const elements = new Map<number, GeneratedLines>();
  matrix.forEach((fraction, z) => {
    if (fraction > 0) elements.set(z, make(z));
  });
  const fluorescence = createFluorescence(beamEv, attenuation);
  const radiation = fluorescence.exciting(matrix, means, elements, matrixLineAttenuation(matrix));
  const { photons } = make(zOf(symbol)!);
  const leaving = new Float64Array(9);
  fluorescence.add(leaving, zOf(symbol)!, new Float64Array(9).fill(CHI), photons, radiation);
  return leaving[s] / photons[s];
}

const alloy = (a: string, share: number, b: string): MassFractions =>
  mixture([
    { formula: a, massFraction: share },
    { formula: b, massFraction: 1 - share },
  ]);

describe('fluorescence', () => {
  it('by lines stands above that by the continuum where a line of the matrix lies just over the edge', () => {
    const [inNickel, inCobalt] = ['Ni', 'Co'].map((other) => added(alloy('Fe', 0.1, other), 'Fe', 0, 20_000));
    expect(inNickel).toBeGreaterThan(0.15);
    expect(inCobalt).toBeLessThan(0.1); // Co Kα lies under the Fe edge, its weak Kβ above
  });

  it('falls as the exciting element gives way', () => {
    const parts = [0.01, 0.1, 0.5, 0.99].map((share) => added(alloy('Cr', share, 'Fe'), 'Cr', 0, 20_000));
    expect(parts).toEqual([...parts].sort((a, b) => b - a));
    expect(parts[0] / parts[3]).toBeGreaterThan(5);
  });

  it('is the same for a trace as for none at all', () => {
    const [none, trace] = [massFractionsOf('Fe'), alloy('Cr', 1e-6, 'Fe')].map((one) => added(one, 'Cr', 0, 20_000));
    expect(Math.abs(trace / none - 1)).toBeLessThan(1e-3);
  });

  it('hardly touches light elements and soft lines', () => {
    expect(added(massFractionsOf('CH2O'), 'C', 0, 20_000)).toBeLessThan(1e-3);
    expect(added(massFractionsOf('ZnO'), 'Zn', 3, 20_000)).toBeLessThan(5e-3);
    expect(added(massFractionsOf('SiO2'), 'Si', 0, 20_000)).toBeLessThan(5e-3);
  });

  it('is finite from beams at the edge to 60 kV, in any matrix', () => {
    for (const formula of ['C', 'SiO2', 'PbCO3', 'U'])
      for (const beamEv of [500, 7200, 30_000, 60_000]) {
        const value = added(massFractionsOf(formula), 'C', 0, beamEv);
        expect(value).toBeGreaterThanOrEqual(0);
        expect(value).toBeLessThan(0.05);
      }
  });

  it('grows, less than in proportion, where all attenuation is taken larger: more is caught, nearer the surface', () => {
    const [one, more] = [1, 1.3].map((factor) => added(alloy('Cr', 0.2, 'Fe'), 'Cr', 0, 20_000, factor));
    expect(more / one).toBeGreaterThan(1);
    expect(more / one).toBeLessThan(1.3);
  });
});

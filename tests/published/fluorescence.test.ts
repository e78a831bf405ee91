// Fluorescence inside the specimen against S.J.B. Reed, Br. J. Appl. Phys. 16 (1965) 913 (formula and constants from memory),
// handbook figures (from memory), and partial photo-ionisation cross sections of xraylib 4.0.0 (L. Kissel's calculation).
import { describe, expect, it } from 'vitest';
import { massAttenuation, matrixAttenuation } from '../../packages/core/src/atomic/attenuation.ts';
import { type MassFractions, mixture } from '../../packages/core/src/atomic/composition.ts';
import { atomicWeight, zOf } from '../../packages/core/src/atomic/elements.ts';
import { linesOf, LINE_TABLE } from '../../packages/core/src/atomic/lines.ts';
import { edgeEv, fluorescenceYield, SUBSHELLS } from '../../packages/core/src/atomic/shells.ts';
import { emergingFraction, matrixMeans } from '../../packages/core/src/emission/thick/depth-distribution.ts';
import { createFluorescence } from '../../packages/core/src/emission/thick/fluorescence.ts';
import { type GeneratedLines, generatedLines } from '../../packages/core/src/emission/thick/generated-lines.ts';
import { matrixLineAttenuation } from '../../packages/core/src/emission/thick/line-attenuation.ts';
import { photoIonisation } from '../../packages/core/src/emission/thick/photo-ionisation.ts';
import { createSlowingDown } from '../../packages/core/src/emission/electrons/slowing-down.ts';
import { readTable } from './fixtures/read-table.ts';

const TAKE_OFF = Math.sin((40 * Math.PI) / 180);

const lineOf = (symbol: string, iupac: string) => linesOf(zOf(symbol)!).find((line) => line.iupac === iupac)!;

/** Intensity by fluorescence / direct intensity of the K-L3 line: by lines, by the continuum. */
function added(matrix: MassFractions, symbol: string, beamEv: number): { lines: number; continuum: number } {
  const [slowing, means, attenuation] = [createSlowingDown(beamEv), matrixMeans(matrix), matrixLineAttenuation(matrix)];
  const make = (z: number): GeneratedLines =>
    generatedLines(z, beamEv, means, slowing, slowing.reciprocalStopping(matrix));
  const elements = new Map<number, GeneratedLines>();
  matrix.forEach((fraction, z) => {
    if (fraction > 0.005) elements.set(z, make(z));
  });
  const fluorescence = createFluorescence(beamEv, 1);
  const radiation = fluorescence.exciting(matrix, means, elements, attenuation);
  const { photons, depths } = make(zOf(symbol)!);
  const chi = attenuation[lineOf(symbol, 'K-L3').index] / TAKE_OFF;
  const by = (kept: typeof radiation): number => {
    const leaving = new Float64Array(9);
    fluorescence.add(leaving, zOf(symbol)!, new Float64Array(9).fill(chi), photons, kept);
    return leaving[0] / (photons[0] * emergingFraction(depths[0]!, chi));
  };
  const isLine = ({ index }: { index: number }): boolean => index < LINE_TABLE.count;
  return {
    lines: by(radiation.filter(isLine)),
    continuum: by(radiation.filter((one) => !isLine(one))),
  };
}

/** Reed 1965, K by K: every line of B that lies over the edge of A, weighted by its fraction. */
function reed(matrix: MassFractions, symbol: string, by: string, beamKev: number): number {
  const [a, b] = [zOf(symbol)!, zOf(by)!];
  const [edgeA, edgeB] = [edgeEv(a, 0), edgeEv(b, 0)];
  const jump = massAttenuation(a, edgeA + 0.02) / massAttenuation(a, edgeA - 0.02);
  const muA = matrixAttenuation(matrix, lineOf(symbol, 'K-L3').energyEv);
  const overvoltage = ((beamKev * 1000) / edgeB - 1) / ((beamKev * 1000) / edgeA - 1);
  let sum = 0;
  for (const { energyEv, relative, subshell } of linesOf(b)) {
    if (subshell !== 0 || energyEv < edgeA) continue;
    const muB = matrixAttenuation(matrix, energyEv);
    const u = muA / muB / TAKE_OFF;
    const v = 3.3e5 / ((beamKev ** 1.65 - (edgeB / 1000) ** 1.65) * muB);
    sum += relative * (massAttenuation(a, energyEv) / muB) * (Math.log1p(u) / u + Math.log1p(v) / v);
  }
  const perAtom = atomicWeight(a) / atomicWeight(b);
  return 0.5 * matrix[b] * (1 - 1 / jump) * fluorescenceYield(b, 0) * perAtom * overvoltage ** 1.67 * sum;
}

const alloy = (a: string, share: number, b: string): MassFractions =>
  mixture([
    { formula: a, massFraction: share },
    { formula: b, massFraction: 1 - share },
  ]);

describe('Reed 1965: K lines by K lines', () => {
  // Allowed 8 % of the effect (found: 3 to 5 %). Reed replaces the ratio of ionisations by a power of the overvoltages (the same for all pairs)
  // and phi(rho z) by one exponential; we use the cross sections and the distribution that all else here uses.
  it.each([
    ['Fe', 0.1, 'Ni', 20],
    ['Fe', 0.1, 'Ni', 30],
    ['Fe', 0.5, 'Ni', 20],
    ['Cr', 0.2, 'Fe', 15],
    ['Cr', 0.2, 'Fe', 25],
    ['Ca', 0.1, 'Ti', 20],
    ['Mn', 0.1, 'Cu', 25],
  ])('%s (%d by mass) in %s at %d kV', (symbol, share, by, beam) => {
    const matrix = alloy(symbol, share, by);
    const ratio = added(matrix, symbol, beam * 1000).lines / reed(matrix, symbol, by, beam);
    expect(Math.abs(ratio - 1)).toBeLessThan(0.08);
  });
});

describe('handbook figures (from memory)', () => {
  it('Fe K by Ni K in Ni with 10 % Fe at 30 kV: about a third of the direct intensity', () => {
    expect(Math.abs(added(alloy('Fe', 0.1, 'Ni'), 'Fe', 30_000).lines - 0.33)).toBeLessThan(0.04);
  });

  it('by the continuum: a few per cent for K of Cu, about 1 % at Ca, a few per mille and less at Si', () => {
    const pure = (symbol: string): number => added(alloy(symbol, 1, symbol), symbol, 20_000).continuum;
    expect(Math.abs(pure('Cu') - 0.05)).toBeLessThan(0.02);
    expect(Math.abs(pure('Ca') - 0.012)).toBeLessThan(0.008);
    expect(pure('Si')).toBeLessThan(0.004);
  });
});

describe('xraylib 4.0.0, CS_Photo_Partial: photo-ionisation of each subshell', () => {
  const off = (name: (typeof SUBSHELLS)[number]): number[] =>
    readTable('xraylib-photo-partial.csv')
      .filter((row) => row['subshell'] === name)
      .map((row) => {
        const ours = photoIonisation(Number(row['z']), Number(row['energy_ev']))[SUBSHELLS.indexOf(name)];
        return Math.abs(ours / Number(row['cm2_per_g']) - 1);
      })
      .sort((a, b) => a - b);

  // K from 1.1 to 3 times its edge; L at 1.05 and 1.3 times the L1 edge. K is over 3 % off only for Na, Al and P at 1.1. Away
  // from their edges the true share of L1 rises and those of L2 and L3 fall, ours stay. Left so: most L1 vacancies end in L3,
  // and fluorescence of L is a correction of a few per cent.
  it.each([
    ['K', 0.01, 0.1],
    ['L2', 0.02, 0.2],
    ['L3', 0.06, 0.15],
    ['L1', 0.2, 0.26],
  ] as const)('%s: median within %d, worst within %d', (name, median, worst) => {
    const found = off(name);
    expect(found.length).toBeGreaterThan(60);
    expect(found[found.length >> 1]).toBeLessThan(median);
    expect(found[found.length - 1]).toBeLessThan(worst);
    if (name === 'K') expect(found.filter((one) => one > 0.03).length).toBeLessThan(4);
  });
});

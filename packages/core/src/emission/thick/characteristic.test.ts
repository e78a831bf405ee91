import { describe, expect, it } from 'vitest';
import { massFractionsOf, mixture } from '../../atomic/composition.ts';
import { zOf } from '../../atomic/elements.ts';
import { LINE_TABLE, lineAt } from '../../atomic/lines.ts';
import { edgeEv } from '../../atomic/shells.ts';
import { createEmission, emittedLines } from './characteristic.ts';

const emission = createEmission(20_000, 40);
const paint = mixture([
  { formula: '2PbCO3*Pb(OH)2', massFraction: 0.6 },
  { formula: 'HgS', massFraction: 0.2 },
  { formula: 'C10H18O2', massFraction: 0.2 },
]);

/** Emission of one line, by symbol and IUPAC name. */
function of(lines: Float64Array, symbol: string, iupac: string): number {
  const z = zOf(symbol)!;
  for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) if (lineAt(i).iupac === iupac) return lines[i];
  throw new Error(`no line ${symbol} ${iupac}`);
}

describe('emitted lines', () => {
  const lines = emission.lines(paint);

  it('are finite and not negative, and 0 exactly where the edge is out of reach or nothing is radiated', () => {
    for (let i = 0; i < LINE_TABLE.count; i++) {
      expect(Number.isFinite(lines[i]) && lines[i] >= 0).toBe(true);
      if (edgeEv(LINE_TABLE.z[i], LINE_TABLE.subshell[i]) >= 20_000) expect(lines[i]).toBe(0);
    }
    expect(lines.filter((value) => value > 0).length).toBeGreaterThan(3000);
  });

  it('keep the table ratio inside a subshell where absorption is the same', () => {
    const ratio = of(lines, 'Fe', 'K-L2') / of(lines, 'Fe', 'K-L3');
    const [weak, strong] = ['K-L2', 'K-L3'].map((name) => {
      for (let i = LINE_TABLE.first[26]; i < LINE_TABLE.first[27]; i++)
        if (lineAt(i).iupac === name) return lineAt(i).relative;
      return NaN;
    });
    expect(Math.abs(ratio / (weak / strong) - 1)).toBeLessThan(2e-3);
  });

  it('are the same for one use and from a kept emission, before and after other matrices', () => {
    emission.lines(massFractionsOf('Au'));
    expect(emission.lines(paint)).toEqual(lines);
    expect(emittedLines(paint, 20_000, 40)).toEqual(lines);
  });

  it('leave out elements that are not wanted, and nothing else', () => {
    const wanted = new Uint8Array(99);
    wanted[82] = 1;
    const some = emission.lines(paint, wanted);
    lines.forEach((value, i) => expect(some[i]).toBe(LINE_TABLE.z[i] === 82 ? value : 0));
  });

  it('rise with the take-off angle and fall with more attenuation, soft lines most', () => {
    const low = createEmission(20_000, 20).lines(paint);
    const dense = createEmission(20_000, 40, { attenuation: 1.2 }).lines(paint);
    for (const [symbol, iupac] of [
      ['O', 'K-L3'],
      ['Pb', 'M5-N7'],
      ['Fe', 'K-L3'],
    ] as const) {
      expect(of(low, symbol, iupac)).toBeLessThan(of(lines, symbol, iupac));
      expect(of(dense, symbol, iupac)).toBeLessThan(of(lines, symbol, iupac));
    }
    const loss = (symbol: string, iupac: string): number => of(low, symbol, iupac) / of(lines, symbol, iupac);
    expect(loss('O', 'K-L3')).toBeLessThan(loss('Fe', 'K-L3'));
  });

  it('of K lines switch on smoothly at the edge', () => {
    const edge = edgeEv(26, 0);
    const near = [1.001, 1.01, 1.1].map((u) =>
      of(createEmission(edge * u, 40).lines(massFractionsOf('Fe')), 'Fe', 'K-L3'),
    );
    expect(near[0]).toBeGreaterThan(0);
    expect(near[1] / near[0]).toBeGreaterThan(20);
    expect(near[2] / near[1]).toBeGreaterThan(20);
    expect(of(createEmission(edge * 0.999, 40).lines(massFractionsOf('Fe')), 'Fe', 'K-L3')).toBe(0);
  });

  it('refuse a beam or an angle that makes no sense', () => {
    for (const beam of [0, -1, NaN, 1e7]) expect(() => createEmission(beam, 40)).toThrow(RangeError);
    for (const angle of [0, -10, 91, NaN]) expect(() => createEmission(20_000, angle)).toThrow(RangeError);
  });
});

describe('emitted continuum', () => {
  const energies = Float64Array.from({ length: 2100 }, (_, i) => 10 * i);

  it('is positive from 50 eV to the end point and 0 beyond, for light and heavy matrices at 3 to 30 kV', () => {
    for (const beam of [3000, 5000, 10_000, 20_000, 30_000]) {
      const under = createEmission(beam, 40);
      for (const formula of ['C', 'CH2O', 'SiO2', 'Pb', 'U']) {
        under.continuum(massFractionsOf(formula), energies).forEach((value, i) => {
          const inside = energies[i] >= 50 && energies[i] < beam;
          if (inside ? !(value > 0) : energies[i] >= beam && value !== 0)
            expect.fail(`${formula} ${beam} ${energies[i]}: ${value}`);
        });
      }
    }
  });

  it('steps down at an absorption edge of the matrix', () => {
    const [below, above] = createEmission(20_000, 40).continuum(massFractionsOf('Fe'), Float64Array.of(7050, 7180));
    expect(above / below).toBeLessThan(0.9);
    expect(above / below).toBeGreaterThan(0.5);
  });

  it('grows with atomic number', () => {
    const at5keV = ['C', 'Si', 'Fe', 'Ag', 'Pb'].map(
      (formula) => emission.continuum(massFractionsOf(formula), Float64Array.of(9000))[0],
    );
    expect(at5keV).toEqual([...at5keV].sort((a, b) => a - b));
  });
});

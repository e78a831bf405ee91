import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../../atomic/composition.ts';
import { zOf } from '../../atomic/elements.ts';
import { linesOf } from '../../atomic/lines.ts';
import type { Material } from './body.ts';
import { createBodyEmission } from './body-emission.ts';
import { grainReach, electronRangeUm } from './range.ts';
import { ionisedWidthUm, recordedDepthUm } from './recorded-volume.ts';

const row = (symbol: string, iupac: string): number =>
  linesOf(zOf(symbol)!).find((line) => line.iupac === iupac)!.index;
const material = (formula: string, densityGPerCm3: number): Material => ({
  composition: massFractionsOf(formula),
  densityGPerCm3,
});
const MATERIALS = [material('C10H18O2', 0.95), material('SiO2', 2.65), material('PbCO3', 6.6), material('Au', 19.3)];
const CA = row('Ca', 'K-L3');

describe('depth from which a line is recorded', () => {
  it('holds the part asked for, as a film of that thickness shows', () => {
    const silica = material('SiO2', 2.65);
    const line = row('Si', 'K-L3');
    const depth = recordedDepthUm(silica, 15_000, 40, line, 0.9);
    const body = createBodyEmission(15_000, 40);
    // On a substrate of nearly the same atomic number, which lacks the element.
    const film = body.of({
      kind: 'stack',
      layers: [
        { composition: silica.composition, massThickness: 2.65e-4 * depth },
        { composition: massFractionsOf('MgO'), massThickness: Infinity },
      ],
    });
    const whole = body.of({ kind: 'bulk', composition: silica.composition });
    expect(Math.abs(film.lines[line] / whole.lines[line] - 0.9)).toBeLessThan(0.01);
  });

  it('grows with the part and the beam, shrinks with density, and is less for a line that is absorbed', () => {
    for (const specimen of MATERIALS) {
      const at = (part: number, kV: number, line = CA): number => recordedDepthUm(specimen, kV * 1000, 40, line, part);
      expect(at(0.99, 15)).toBeGreaterThan(at(0.9, 15));
      for (let kV = 5; kV < 30; kV++) expect(at(0.9, kV + 1)).toBeGreaterThan(at(0.9, kV));
      expect(at(0.9, 20, row('O', 'K-L3'))).toBeLessThan(at(0.9, 20, row('Si', 'K-L3')));
      const denser = { ...specimen, densityGPerCm3: 2 * specimen.densityGPerCm3 };
      expect(Math.abs(recordedDepthUm(denser, 15_000, 40, CA, 0.9) / at(0.9, 15) - 0.5)).toBeLessThan(1e-9);
      expect(at(0.9, 4)).toBe(0);
      expect(at(0.99, 20)).toBeLessThan(1.3 * electronRangeUm(specimen.composition, specimen.densityGPerCm3, 20_000));
    }
  });
});

describe('width of the ionised volume', () => {
  it('grows with the part and the beam and shrinks with density', () => {
    for (const specimen of MATERIALS) {
      const at = (part: number, kV: number): number => ionisedWidthUm(specimen, kV * 1000, CA, part);
      expect(at(0.95, 15)).toBeGreaterThan(at(0.5, 15));
      for (let kV = 5; kV < 30; kV++) expect(at(0.9, kV + 1)).toBeGreaterThan(at(0.9, kV));
      const denser = { ...specimen, densityGPerCm3: 2 * specimen.densityGPerCm3 };
      expect(Math.abs(ionisedWidthUm(denser, 15_000, CA, 0.9) / at(0.9, 15) - 0.5)).toBeLessThan(1e-9);
      expect(at(0.9, 4)).toBe(0);
    }
  });
});

describe('a beam in a grain', () => {
  it('stays inside up to the energy given, and not beyond', () => {
    for (const grain of MATERIALS) {
      for (const diameterUm of [0.5, 2, 8]) {
        const { highestBeamKev } = grainReach(grain, diameterUm, 20_000);
        expect(grainReach(grain, diameterUm, 999 * highestBeamKev).inside).toBe(true);
        const beyond = grainReach(grain, diameterUm, 1001 * highestBeamKev);
        expect(beyond.inside).toBe(false);
        expect(Math.abs(beyond.electronRangeUm / (diameterUm / 2) - 1)).toBeLessThan(2e-3);
      }
    }
  });

  it('at that energy leaves less than 3 % of the lines of a thick surrounding', () => {
    const surrounding = material('CaMgSi2O6', 3.2);
    for (const grain of [material('PbCO3', 6.6), material('HgS', 8.1), material('Fe2O3', 5.2)]) {
      for (const diameterUm of [2, 4]) {
        const { highestBeamKev } = grainReach(grain, diameterUm, 20_000);
        const body = createBodyEmission(1000 * highestBeamKev, 40);
        const { lines } = body.of({ kind: 'grain', grain, surrounding, diameterUm, coats: [] });
        const whole = body.of({ kind: 'bulk', composition: surrounding.composition }).lines;
        for (const line of [row('Si', 'K-L3'), row('Mg', 'K-L3')]) {
          expect(lines[line] / whole[line]).toBeLessThan(0.03);
        }
      }
    }
  });
});

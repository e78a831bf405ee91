// Backscatter coefficient and electron range against independent published formulas and textbook figures.
import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../../packages/core/src/atomic/composition.ts';
import { linesOf } from '../../packages/core/src/atomic/lines.ts';
import { edgeEv } from '../../packages/core/src/atomic/shells.ts';
import { backscatterAt, backscatterCoefficient } from '../../packages/core/src/emission/electrons/backscatter.ts';
import { electronRangeUm, ionisationRangeUm } from '../../packages/core/src/emission/body/range.ts';
import { recordedDepthUm } from '../../packages/core/src/emission/body/recorded-volume.ts';

describe('backscatter coefficient (Pouchou & Pichoir 1991) against other fits to measurements', () => {
  const ELEMENTS = [6, 13, 14, 26, 29, 47, 56, 79, 82];

  // 0.017: the largest difference, at Au.
  it.each(ELEMENTS)('W. Reuter 1972 (20 keV), Z = %i', (z) => {
    const reuter = -0.0254 + 0.016 * z - 1.86e-4 * z ** 2 + 8.3e-7 * z ** 3;
    expect(Math.abs(backscatterCoefficient(z) - reuter)).toBeLessThan(0.018);
  });

  // H.-J. Hunger, L. Küchler, Phys. Status Solidi A 56 (1979) K45, constants from memory. 0.022: the difference at Pb.
  it.each(ELEMENTS)('H.-J. Hunger, L. Küchler 1979 at 20 keV, Z = %i', (z) => {
    const l = Math.log(z);
    const scale = 0.1904 - 0.2235 * l + 0.1292 * l ** 2 - 0.01491 * l ** 3;
    const eta = 20 ** (0.1382 - 0.9211 / Math.sqrt(z)) * scale;
    expect(Math.abs(backscatterCoefficient(z) - eta)).toBeLessThan(0.022);
  });
});

// The power of the beam energy is theirs; their scale is not used, so that the level is still a check. 0.024: the difference at Pb, 30 keV.
describe('backscatter coefficient over the beam energy: H.-J. Hunger, L. Küchler 1979', () => {
  it.each([5, 10, 15, 20, 30])('at %d keV', (kev) => {
    for (const z of [6, 13, 14, 26, 29, 47, 56, 79, 82]) {
      const l = Math.log(z);
      const scale = 0.1904 - 0.2235 * l + 0.1292 * l ** 2 - 0.01491 * l ** 3;
      const eta = kev ** (0.1382 - 0.9211 / Math.sqrt(z)) * scale;
      expect(Math.abs(backscatterAt(z, kev) - eta), `Z = ${z}`).toBeLessThan(0.024);
    }
  });

  it('is the coefficient itself at 20 keV, and does not leave the energies of the fit', () => {
    expect(backscatterAt(29, 20)).toBe(backscatterCoefficient(29));
    expect(backscatterAt(29, 2)).toBe(backscatterAt(29, 4));
    expect(backscatterAt(29, 100)).toBe(backscatterAt(29, 40));
  });
});

describe('K. Kanaya, S. Okayama, J. Phys. D 5 (1972) 43: electron range, um (textbook table, from memory)', () => {
  it.each([
    ['Al', 2.7, 20, 4.2],
    ['Cu', 8.96, 20, 1.5],
    ['Au', 19.3, 20, 0.86],
    ['Al', 2.7, 5, 0.41],
    ['Al', 2.7, 10, 1.3],
    ['Al', 2.7, 30, 8.3],
    ['Fe', 7.87, 10, 0.52],
    ['Fe', 7.87, 30, 3.2],
    ['Au', 19.3, 5, 0.085],
    ['Au', 19.3, 10, 0.27],
    ['Au', 19.3, 30, 1.7],
  ])('%s, %d g/cm3, %d keV', (symbol, density, kev, published) => {
    expect(Math.abs(electronRangeUm(massFractionsOf(symbol), density, 1000 * kev) / published - 1)).toBeLessThan(0.03);
  });

  // A depth is no longer than the path: NIST ESTAR (public domain), CSDA range at 20 keV in mg/cm2. Carbon exceeds it by 5 %.
  it.each([
    ['C', 0.9595, 1.06],
    ['Al', 1.17, 1],
    ['Si', 1.142, 1],
    ['Cu', 1.465, 0.95],
    ['Ag', 1.72, 0.85],
    ['Au', 2.266, 0.75],
    ['Pb', 2.339, 0.75],
  ])('%s: the range is at most the whole path of %d mg/cm2 times %d', (symbol, path, most) => {
    const ratio = (0.1 * electronRangeUm(massFractionsOf(symbol), 1, 20_000)) / path;
    expect(ratio).toBeLessThan(most);
    expect(ratio).toBeGreaterThan(0.7);
  });

  it('of a compound lies between those of its elements at the same density', () => {
    const [o, pb, both] = ['O', 'Pb', 'PbO'].map((formula) => electronRangeUm(massFractionsOf(formula), 5, 20_000));
    expect(both).toBeLessThan(Math.max(o, pb));
    expect(both).toBeGreaterThan(Math.min(o, pb));
  });

  it('is longer than the range of ionisation of an inner shell (Andersen & Hasler 1966)', () => {
    const al = massFractionsOf('Al');
    expect(ionisationRangeUm(2.7, 20_000, 1559.6)).toBeLessThan(electronRangeUm(al, 2.7, 20_000));
    expect(ionisationRangeUm(2.7, 20_000, 15_000)).toBeLessThan(ionisationRangeUm(2.7, 20_000, 1559.6));
    expect(ionisationRangeUm(2.7, 20_000, 25_000)).toBe(0);
  });
});

// The published range knows the material by its density only: heavy ones differ most (Au at 30 kV by 25 %).
describe('C.A. Andersen, M.F. Hasler 1966 against the depth that holds 99 % of a hardly absorbed line by phi(rho z)', () => {
  it.each([
    ['Al', 2.7, 0.16],
    ['SiO2', 2.65, 0.16],
    ['Cu', 8.96, 0.18],
    ['PbCO3', 6.6, 0.25],
    ['Au', 19.3, 0.27],
  ])('Ca K in %s (%d g/cm3) at 15, 20 and 30 kV: within %d', (formula, densityGPerCm3, allowed) => {
    const material = { composition: massFractionsOf(formula), densityGPerCm3 };
    const line = linesOf(20).find(({ iupac }) => iupac === 'K-L3')!.index;
    for (const beamEv of [15_000, 20_000, 30_000]) {
      const depth = recordedDepthUm(material, beamEv, 90, line, 0.99);
      expect(Math.abs(ionisationRangeUm(densityGPerCm3, beamEv, edgeEv(20, 0)) / depth - 1)).toBeLessThan(allowed);
    }
  });
});

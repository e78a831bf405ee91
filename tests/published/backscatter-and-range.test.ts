// Backscatter coefficient and electron range against independent published formulas and textbook figures.
import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../../packages/core/src/atomic/composition.ts';
import { backscatterCoefficient } from '../../packages/core/src/emission/backscatter.ts';
import { electronRangeUm, ionisationRangeUm } from '../../packages/core/src/emission/range.ts';

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

describe('K. Kanaya, S. Okayama, J. Phys. D 5 (1972) 43: electron range at 20 keV, um (textbook table, from memory)', () => {
  it.each([
    ['Al', 2.7, 4.2],
    ['Cu', 8.96, 1.5],
    ['Au', 19.3, 0.86],
  ])('%s', (symbol, density, published) => {
    expect(Math.abs(electronRangeUm(massFractionsOf(symbol), density, 20_000) / published - 1)).toBeLessThan(0.03);
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

import { expect, it } from 'vitest';
import { massFractionsOf } from '../../atomic/composition.ts';
import { zOf } from '../../atomic/elements.ts';
import { layerOf } from './body.ts';
import { COAT_NAMES, coat } from './coat.ts';

it('gives mass per area: 10 nm of gold are 19.3 ug/cm2, 20 nm of carbon 4 ug/cm2', () => {
  expect(Math.abs(coat('gold', 10).massThickness / 19.3e-6 - 1)).toBeLessThan(1e-12);
  expect(Math.abs(coat('carbon', 20).massThickness / 4e-6 - 1)).toBeLessThan(1e-12);
  const water = { composition: massFractionsOf('H2O'), densityGPerCm3: 1 };
  expect(Math.abs(layerOf(water, 3).massThickness / 3e-4 - 1)).toBeLessThan(1e-12);
});

it('mixes gold and palladium 80 to 20 by mass, of a density between them', () => {
  const { composition, massThickness } = coat('gold-palladium', 10);
  expect(Math.abs(composition[zOf('Au')!] - 0.8)).toBeLessThan(1e-12);
  expect(Math.abs(composition[zOf('Pd')!] - 0.2)).toBeLessThan(1e-12);
  expect(massThickness).toBeGreaterThan(12e-6);
  expect(massThickness).toBeLessThan(19.3e-6);
});

it('refuses a thickness that makes no sense', () => {
  for (const name of COAT_NAMES)
    for (const thicknessNm of [-1, NaN, 1001, Infinity]) expect(() => coat(name, thicknessNm)).toThrow(RangeError);
});

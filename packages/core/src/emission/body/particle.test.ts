import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type MassFractions, massFractionsOf } from '../../atomic/composition.ts';
import { LINE_TABLE } from '../../atomic/lines.ts';
import type { Layer, Material } from './body.ts';
import { type BodyEmission, createBodyEmission, type EmittedByBody } from './body-emission.ts';
import { coat } from './coat.ts';

const white: Material = { composition: massFractionsOf('2PbCO3*Pb(OH)2'), densityGPerCm3: 6.7 };
const red: Material = { composition: massFractionsOf('HgS'), densityGPerCm3: 8.1 };
const oil: Material = { composition: massFractionsOf('C10H18O2'), densityGPerCm3: 0.95 };
const glass: Material = { composition: massFractionsOf('Na2SiO3'), densityGPerCm3: 2.5 };

const ENERGIES = Float64Array.from({ length: 150 }, (_, i) => 100 + 100 * i);
const at = (beamKev: number): BodyEmission => createBodyEmission(beamKev * 1000, 40);
const thick = (body: BodyEmission, composition: MassFractions): EmittedByBody => body.of({ kind: 'bulk', composition });

function of(
  body: BodyEmission,
  diameterUm: number,
  grain: Material,
  surrounding: Material,
  more: { coats?: readonly Layer[]; centreDepthUm?: number } = {},
): EmittedByBody {
  return body.of({ kind: 'grain', grain, surrounding, diameterUm, coats: [], ...more });
}

function farthest(found: Float64Array, expected: Float64Array): number {
  let worst = 0;
  expected.forEach((value, i) => {
    if (value > 0) worst = Math.max(worst, Math.abs(found[i] / value - 1));
    else if (found[i] !== 0) worst = Math.max(worst, found[i] / Math.max(...expected));
  });
  return worst;
}

/** Sum of the lines of elements that one material has and the other lacks. */
function only(lines: Float64Array, { composition }: Material, other: Material): number {
  return lines.reduce((sum, value, i) => {
    const z = LINE_TABLE.z[i];
    return sum + (composition[z] > 0 && !(other.composition[z] > 0) ? value : 0);
  }, 0);
}

describe('limits of a grain', () => {
  it.each([5, 10, 20, 30])('at %d kV: huge, it is its own thick specimen; of no size, the surrounding', (kV) => {
    const body = at(kV);
    const huge = of(body, 2000, white, oil);
    expect(farthest(huge.lines, thick(body, white.composition).lines)).toBeLessThan(1e-3);
    expect(farthest(huge.continuum(ENERGIES), thick(body, white.composition).continuum(ENERGIES))).toBeLessThan(1e-4);
    const none = of(body, 0, white, oil);
    expect(farthest(none.lines, thick(body, oil.composition).lines)).toBeLessThan(1e-9);
    expect(farthest(none.continuum(ENERGIES), thick(body, oil.composition).continuum(ENERGIES))).toBeLessThan(1e-9);
  });

  it.each([0.1, 0.5, 2, 5, 20])('of %d um in its own material it is not seen (continuum)', (diameterUm) => {
    for (const kV of [10, 20]) {
      for (const centreDepthUm of [0, diameterUm / 2, -diameterUm / 4]) {
        const found = of(at(kV), diameterUm, glass, glass, { centreDepthUm }).continuum(ENERGIES);
        expect(farthest(found, thick(at(kV), glass.composition).continuum(ENERGIES))).toBeLessThan(1e-4);
      }
    }
  });

  it.each([1e-300, 1e-100, 1e-9, 1e-6, 1e-4])('of %d um leaves the surrounding, in numbers', (diameterUm) => {
    for (const centreDepthUm of [0, diameterUm / 2, -diameterUm / 2]) {
      const { lines } = of(at(20), diameterUm, white, glass, { centreDepthUm });
      const expected = thick(at(20), glass.composition).lines;
      expect(lines.every((value) => value >= 0)).toBe(true);
      expected.forEach((value, i) => {
        if (value > 0 && !(white.composition[LINE_TABLE.z[i]] > 0))
          expect(Math.abs(lines[i] / value - 1)).toBeLessThan(0.01);
      });
    }
  });

  it('of no size under a coat is a coated surrounding', () => {
    const body = at(15);
    const coats = [coat('gold', 10)];
    const stack = body.of({
      kind: 'stack',
      layers: [...coats, { composition: glass.composition, massThickness: Infinity }],
    });
    expect(farthest(of(body, 0, red, glass, { coats }).lines, stack.lines)).toBeLessThan(1e-9);
  });
});

describe('growing grains', () => {
  it('show more of themselves and less of the surrounding, at 3 to 30 kV, cut or whole', () => {
    const material = fc.constantFrom(white, red, oil, glass);
    fc.assert(
      fc.property(
        material,
        material,
        fc.integer({ min: 3, max: 30 }),
        fc.double({ min: -0.4, max: 0.5, noNaN: true }),
        (grain, surrounding, kV, centre) => {
          if (grain === surrounding) return;
          // Without absorption: the way out through a heavy grain, or through a heavy surrounding, may go either way.
          const body = createBodyEmission(kV * 1000, 40, { attenuation: 1e-9 });
          const all = [0, 0.1, 0.3, 1, 3, 10, 30].map(
            (d) => of(body, d, grain, surrounding, { centreDepthUm: centre * d }).lines,
          );
          all.slice(1).forEach((lines, k) => {
            expect(lines.every((value) => value >= 0)).toBe(true);
            const [grains, surroundings] = [only(lines, grain, surrounding), only(lines, surrounding, grain)];
            expect(grains).toBeGreaterThanOrEqual(only(all[k], grain, surrounding) * (1 - 1e-3));
            expect(surroundings).toBeLessThanOrEqual(only(all[k], surrounding, grain) * (1 + 1e-3));
          });
        },
      ),
      { seed: 11, numRuns: 60 },
    );
  });

  it('at a beam that it stops, is seen alone; at a higher beam the surrounding is seen too', () => {
    const share = (kV: number): number => {
      const { lines } = of(at(kV), 1.5, red, glass);
      return only(lines, glass, red) / only(lines, red, glass);
    };
    expect(share(8)).toBeLessThan(1e-3);
    expect(share(25)).toBeGreaterThan(0.03);
  });
});

describe('grains that make no sense', () => {
  it.each([
    ['a negative diameter', { diameterUm: -1 }],
    ['a centre too deep', { diameterUm: 2, centreDepthUm: 1.5 }],
    ['no density', { diameterUm: 2, grain: { ...white, densityGPerCm3: 0 } }],
    ['a thick coat', { diameterUm: 2, coats: [{ composition: oil.composition, massThickness: Infinity }] }],
  ])('%s', (_, wrong) => {
    const body = { kind: 'grain', grain: white, surrounding: oil, coats: [], ...wrong } as const;
    expect(() => at(20).of(body)).toThrow(RangeError);
  });
});

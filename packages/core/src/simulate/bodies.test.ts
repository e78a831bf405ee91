import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../atomic/composition.ts';
import { type Body, type Grain, layerOf, type Material } from '../emission/body/body.ts';
import { coat, COAT_NAMES } from '../emission/body/coat.ts';
import type { SimulationConditions } from './conditions.ts';
import { simulate } from './simulate.ts';

const sum = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);

const material = fc
  .tuple(
    fc.constantFrom('C', 'SiO2', 'CaCO3', 'Fe2O3', 'HgS', 'PbO', 'Au', 'C57H98O10'),
    fc.double({ min: 0.5, max: 20, noNaN: true }),
  )
  .map(([formula, densityGPerCm3]): Material => ({ composition: massFractionsOf(formula), densityGPerCm3 }));
const coats = fc
  .array(fc.tuple(fc.constantFrom(...COAT_NAMES), fc.double({ min: 0, max: 1000, noNaN: true })), { maxLength: 2 })
  .map((given) => given.map(([name, nm]) => coat(name, nm)));
const um = fc.oneof(fc.constant(0), fc.double({ min: 1e-4, max: 200, noNaN: true }));

const film = fc.tuple(coats, material, um, material).map(([over, above, thicknessUm, { composition }]): Body => ({
  kind: 'stack',
  layers: [...over, layerOf(above, thicknessUm), { composition, massThickness: Infinity }],
}));
const grain = fc
  .record({ grain: material, diameterUm: um, surrounding: material, coats })
  .map((parts): Grain => ({ kind: 'grain', ...parts }));

describe('any body', () => {
  const conditions = { channels: 512, axis: { offsetEv: 0, gainEv: 40 }, totalCounts: 1e5, seed: null };

  it('gives finite counts that add up to what was asked for', () => {
    fc.assert(
      fc.property(fc.oneof(film, grain), fc.constantFrom(2, 5, 12, 20, 30), (body, beamKev) => {
        const { counts } = simulate({ body }, { beamKev, ...conditions });
        expect(counts.every((count) => Number.isFinite(count) && count >= 0)).toBe(true);
        expect(Math.abs(sum(counts) / 1e5 - 1)).toBeLessThan(1e-6);
      }),
      { seed: 12, numRuns: 60 },
    );
  });

  it('is the thick specimen where film or grain is far thicker than the range, and what lies behind where it is nothing', () => {
    const [chalk, oil] = ['CaCO3', 'C57H98O10'].map((formula) => massFractionsOf(formula));
    const counts = (body: Body): Float64Array => simulate({ body }, { beamKev: 15, ...conditions }).counts;
    const film = (thicknessUm: number): Body => ({
      kind: 'stack',
      layers: [
        layerOf({ composition: chalk, densityGPerCm3: 2.7 }, thicknessUm),
        { composition: oil, massThickness: Infinity },
      ],
    });
    const grain = (diameterUm: number): Body => ({
      kind: 'grain',
      grain: { composition: chalk, densityGPerCm3: 2.7 },
      diameterUm,
      surrounding: { composition: oil, densityGPerCm3: 1 },
      coats: [],
    });
    for (const of of [film, grain]) {
      for (const [body, composition] of [
        [of(500), chalk],
        [of(0), oil],
      ] as const) {
        const expected = counts({ kind: 'bulk', composition });
        counts(body).forEach((count, i) =>
          expect(Math.abs(count - expected[i])).toBeLessThan(0.005 * expected[i] + 0.01),
        );
      }
    }
  });

  it('gives fewer counts of its own the smaller it is, under the same dose', () => {
    const dose: SimulationConditions = {
      beamKev: 20,
      liveTimeS: 60,
      probeCurrentNa: 0.2,
      solidAngleSr: 0.01,
      seed: null,
      pileUp: 0,
    };
    const iron = (diameterUm: number): number => {
      const { counts } = simulate(
        {
          body: {
            kind: 'grain',
            grain: { composition: massFractionsOf('Fe2O3'), densityGPerCm3: 5.2 },
            diameterUm,
            surrounding: { composition: massFractionsOf('C57H98O10'), densityGPerCm3: 1 },
            coats: [],
          },
        },
        dose,
      );
      return sum(counts.subarray(625, 655)) - 0.5 * (sum(counts.subarray(595, 625)) + sum(counts.subarray(655, 685)));
    };
    const found = [0.3, 1, 3, 10].map(iron);
    for (let k = 1; k < found.length; k++) expect(found[k]).toBeGreaterThan(found[k - 1]);
    expect(found[0]).toBeLessThan(0.25 * found[3]);
  });
});

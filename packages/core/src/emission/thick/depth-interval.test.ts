import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../../atomic/composition.ts';
import { crossSectionExponent, depthDistribution, emergingFraction, matrixMeans, phiAt } from './depth-distribution.ts';
import { emergingBetween } from './depth-interval.ts';

const CASES = ['C', 'SiO2', 'Fe', 'PbCO3', 'Au'].flatMap((formula) =>
  [3, 5, 10, 20, 30].flatMap((beam) =>
    [0.28, 0.53, 1.84, 7.1, 13].filter((edge) => edge < beam).map((edge) => [formula, beam, edge] as const),
  ),
);
const CHIS = [0, 30, 1000, 30_000];

const distributionOf = (formula: string, beam: number, edge: number) =>
  depthDistribution(matrixMeans(massFractionsOf(formula)), beam, edge, crossSectionExponent(14, 0));

describe('photons born between two depths', () => {
  it.each(CASES)('%s, %d kV, edge at %d keV: all together are those of the thick specimen', (formula, beam, edge) => {
    const depth = distributionOf(formula, beam, edge);
    for (const chi of CHIS) {
      const whole = depth.generated * emergingFraction(depth, chi);
      expect(Math.abs(emergingBetween(depth, 0, Infinity, chi) / whole - 1)).toBeLessThan(1e-12);
      const cuts = [0, 1e-9, 1e-6, 0.1, 0.5, 1, 1.8, Infinity].map((x) => x * depth.meanDepth);
      let sum = 0;
      for (let k = 1; k < cuts.length; k++)
        sum += Math.exp(-chi * cuts[k - 1]) * emergingBetween(depth, cuts[k - 1], cuts[k], chi);
      expect(Math.abs(sum / whole - 1)).toBeLessThan(2e-3); // where phi turns negative far down it counts as 0
    }
  });

  it('agree with a sum over 20 000 thin slices', () => {
    const depth = distributionOf('SiO2', 15, 1.84);
    const [from, to] = [0.3 * depth.meanDepth, 1.2 * depth.meanDepth];
    for (const chi of CHIS) {
      const step = (to - from) / 20_000;
      let sum = 0;
      for (let k = 0; k < 20_000; k++)
        sum += step * phiAt(depth, from + (k + 0.5) * step) * Math.exp(-chi * (k + 0.5) * step);
      expect(Math.abs(emergingBetween(depth, from, to, chi) / sum - 1)).toBeLessThan(1e-7);
    }
  });

  it('are phi times the thickness of a thin slice, also where both ways of working it out meet', () => {
    for (const [formula, beam, edge] of CASES) {
      const depth = distributionOf(formula, beam, edge);
      for (const width of [1e-9, 1e-5, 3e-5, 1e-4, 3e-4].map((x) => x / depth.b)) {
        const found = emergingBetween(depth, 0, width, 0) / (phiAt(depth, width / 2) * width);
        expect(Math.abs(found - 1)).toBeLessThan(1e-6);
      }
    }
  });

  it('are none in an empty slice, and never negative', () => {
    for (const [formula, beam, edge] of CASES) {
      const depth = distributionOf(formula, beam, edge);
      expect(emergingBetween(depth, 1e-5, 1e-5, 10)).toBe(0);
      for (const from of [0, 1, 3, 10, 1000, 1e9].map((x) => x * depth.meanDepth))
        expect(emergingBetween(depth, from, Infinity, 10)).toBeGreaterThanOrEqual(0);
    }
  });
});

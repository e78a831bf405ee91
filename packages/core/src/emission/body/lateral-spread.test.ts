import { expect, it } from 'vitest';
import { massFractionsOf } from '../../atomic/composition.ts';
import { depthDistribution, matrixMeans } from '../thick/depth-distribution.ts';
import { lateralSpread } from './lateral-spread.ts';

it('shares all ionisations between two Gaussians that widen with depth and do not pass a mean depth', () => {
  for (const formula of ['C', 'SiO2', 'Cu', 'PbCO3', 'Au']) {
    for (const beamKev of [3, 10, 30]) {
      const depth = depthDistribution(matrixMeans(massFractionsOf(formula)), beamKev, 1.84, 0.86);
      let before = -1;
      for (const x of [0, 0.1, 0.3, 1, 2, 4, 10]) {
        const [forward, diffuse] = lateralSpread(depth, x);
        expect(Math.abs(forward.weight + diffuse.weight - 1)).toBeLessThan(1e-12);
        expect(forward.width).toBeGreaterThan(before);
        expect(forward.width).toBeLessThan(diffuse.width);
        expect(diffuse.width).toBeLessThan(1);
        before = forward.width;
      }
    }
  }
});

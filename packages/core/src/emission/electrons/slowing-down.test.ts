import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../../atomic/composition.ts';
import { atomicWeight } from '../../atomic/elements.ts';
import { edgeEv } from '../../atomic/shells.ts';
import { ionisationCrossSection } from './cross-section.ts';
import { createSlowingDown } from './slowing-down.ts';
import { stoppingPower } from './stopping.ts';
import { hardShare, pathExcess } from './straggling.ts';

/** The integral of (N_A / A) sigma times path per energy from edge to beam with 20 000 midpoints. */
function fine(z: number, s: number, beam: number, matrix: Float64Array): number {
  const edge = edgeEv(z, s);
  const n = 20_000;
  let sum = 0;
  for (let k = 0; k < n; k++) {
    const energy = edge + ((k + 0.5) * (beam - edge)) / n;
    let stopping = 0;
    matrix.forEach((fraction, element) => {
      if (fraction > 0) stopping += fraction * stoppingPower(element, energy);
    });
    const excess = 1 + hardShare(matrix, beam) * pathExcess(1 - energy / beam);
    sum += (ionisationCrossSection(z, s, energy) * excess) / stopping;
  }
  return (sum * (beam - edge) * 6.02214076e23) / (n * atomicWeight(z));
}

describe('ionisations along the path', () => {
  const matrix = massFractionsOf('CaSO4*2H2O');

  it.each([
    ['C K, U = 70', 6, 0, 20_000, 1e-3],
    ['Ca K, U = 5', 20, 0, 20_000, 1e-3],
    ['Fe K, U = 2.1', 26, 0, 15_000, 1e-3],
    ['Pb L3, U = 1.53', 82, 3, 20_000, 2e-3],
    ['Pb M5, U = 8', 82, 8, 20_000, 1e-3],
    ['Zn K, U = 1.035', 30, 0, 10_000, 2e-2],
  ])('%s: the grid is fine enough', (_, z, s, beam, allowed) => {
    const slowing = createSlowingDown(beam);
    const found = slowing.ionisations(z, s, slowing.reciprocalStopping(matrix));
    expect(Math.abs(found / fine(z, s, beam, matrix) - 1)).toBeLessThan(allowed);
  });

  it('are none where the beam does not reach the edge or there is no such subshell', () => {
    const slowing = createSlowingDown(10_000);
    const reciprocal = slowing.reciprocalStopping(matrix);
    expect(slowing.ionisations(82, 3, reciprocal)).toBe(0);
    expect(slowing.ionisations(6, 3, reciprocal)).toBe(0);
  });
});

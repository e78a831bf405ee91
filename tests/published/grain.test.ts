// A grain in a surrounding against our own Monte Carlo calculation (fixtures/monte-carlo.ts), which is no publication: it
// shares cross sections and stopping power with the model, its paths of electrons are its own.
import { describe, expect, it } from 'vitest';
import { matrixAttenuation } from '../../packages/core/src/atomic/attenuation.ts';
import { massFractionsOf } from '../../packages/core/src/atomic/composition.ts';
import { edgeEv } from '../../packages/core/src/atomic/shells.ts';
import {
  crossSectionExponent,
  depthDistribution,
  emergingFraction,
  matrixMeans,
} from '../../packages/core/src/emission/thick/depth-distribution.ts';
import type { Matter } from '../../packages/core/src/emission/body/matter.ts';
import { grainArrangement } from '../../packages/core/src/emission/body/particle.ts';
import { electronRangeUm } from '../../packages/core/src/emission/body/range.ts';
import { readTable } from './fixtures/read-table.ts';

const SINE = Math.sin((40 * Math.PI) / 180);

interface Shares {
  readonly inGrain: number;
  readonly inSurrounding: number;
  readonly outOfGrain: number;
  readonly outOfSurrounding: number;
}

/** By the model, each in units of the same material when thick. */
function model(row: Record<string, string>): Shares {
  const compositions = [row['grain'], row['surrounding']].map(massFractionsOf);
  const [z, s] = [Number(row['z']), Number(row['subshell'])];
  const thick = compositions.map((composition) =>
    depthDistribution(
      matrixMeans(composition),
      Number(row['beam_kev']),
      edgeEv(z, s) / 1000,
      crossSectionExponent(z, s),
    ),
  );
  const chis = compositions.map((composition) => matrixAttenuation(composition, Number(row['photon_ev'])) / SINE);
  const matter = undefined as unknown as Matter;
  const emerging = grainArrangement({
    coats: [],
    grain: matter,
    surrounding: matter,
    grainDensity: Number(row['grain_density']),
    surroundingDensity: Number(row['surrounding_density']),
    sphere: { radius: Number(row['diameter_um']) / 2, centre: 0 },
    takeOffDeg: 40,
  }).share(thick);
  const out = (k: number): number => emerging(k, chis) / (thick[k].generated * emergingFraction(thick[k], chis[k]));
  return {
    inGrain: emerging(0, [0, 0]) / thick[0].generated,
    inSurrounding: emerging(1, [0, 0]) / thick[1].generated,
    outOfGrain: out(0),
    outOfSurrounding: out(1),
  };
}

const rows = readTable('monte-carlo-grains.csv');

describe('grains of 0.3 to 5 um, 10 and 20 kV, O K to Fe K, five pairs of materials', () => {
  it.each([
    ['inGrain', 'in_grain', 0.039, 0.12],
    ['inSurrounding', 'in_surrounding', 0.068, 0.21],
    ['outOfGrain', 'out_of_grain', 0.048, 0.23],
    ['outOfSurrounding', 'out_of_surrounding', 0.09, 0.5],
  ] as const)('%s (%s): rms %d, largest %d of the thick one', (which, column, typical, largest) => {
    const off = rows.map((row) => model(row)[which] - Number(row[column]));
    expect(off.length).toBeGreaterThan(200);
    expect(Math.sqrt(off.reduce((a, b) => a + b * b, 0) / off.length)).toBeLessThan(typical);
    expect(Math.max(...off.map(Math.abs))).toBeLessThan(largest);
  });
});

describe('a grain as deep as the electron range (Kanaya & Okayama 1972)', () => {
  it('is left by less than 2 % of the ionisations, by the Monte Carlo calculation', () => {
    const contained = rows.filter((row) => {
      const density = Number(row['grain_density']);
      const range = electronRangeUm(massFractionsOf(row['grain']), density, 1000 * Number(row['beam_kev']));
      return range <= Number(row['diameter_um']) / 2;
    });
    expect(contained.length).toBeGreaterThan(20);
    for (const row of contained) expect(Number(row['in_surrounding'])).toBeLessThan(0.02);
  });
});

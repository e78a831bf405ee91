// Pairs of elements whose lines overlap, as mixtures at mass ratios 1:1, 1:10 and 10:1, with physics bent away from the fit's.
// LIMNER_OVERLAPS=1 takes every pair of data/pigments/clashes.csv (sources per row there) at 10 and 20 keV; `npm test` takes
// one in forty-eight at 20 keV.
import { describe, expect, it } from 'vitest';
import { identify } from '@limner/core';
import { zOf } from '../../packages/core/src/atomic/elements.ts';
import { KNOWN_CLASHES } from '../../packages/core/src/pigments/knowledge.ts';
import { grainOf, scoreOf, type Score } from './grains.ts';

const ALL = process.env['LIMNER_OVERLAPS'] !== undefined;
const BEAMS = ALL ? [10, 20] : [20];
const EVERY = ALL ? 1 : 48;
const RATIOS = [1, 0.1, 10];
const COUNTS = 200_000;

const pairs = [
  ...new Set(
    KNOWN_CLASHES.map(({ elementA, elementB }) => [elementA, elementB])
      .filter(([a, b]) => a !== b && zOf(a) !== undefined && zOf(b) !== undefined)
      .map((pair) => pair.join(' ')),
  ),
].filter((_, i) => i % EVERY === 0);

function read(pair: string, beamKev: number, ratio: number, seed: number): Score {
  const masses = new Float64Array(99);
  const [a, b] = pair.split(' ');
  masses[zOf(a)!] = ratio;
  masses[zOf(b)!] = 1;
  const grain = grainOf(`${pair} at ${ratio}`, masses, beamKev, COUNTS, seed);
  return scoreOf(grain, identify(grain.spectrum));
}

describe.each(BEAMS)('pairs that overlap at %i keV', (beamKev) => {
  it.each(pairs)('%s: none invented, none lost', (pair) => {
    RATIOS.forEach((ratio, k) => {
      const score = read(pair, beamKev, ratio, 31 * beamKev + k);
      expect(score.invented, score.name).toEqual([]);
      // What shares all its lines with a neighbour of uncertain soft lines (O under Cr L) may be `open`, or below its limit.
      expect(
        score.majorsMissed.filter((told) => !told.endsWith(' open')),
        score.name,
      ).toEqual([]);
      expect(score.denied, score.name).toEqual([]);
    });
  });
});

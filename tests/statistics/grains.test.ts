// Random grains of 1 to 8 elements, physics bent away from the fit's own, 10 to 25 keV, 1e4 to 1e6 counts: none invented, what stands
// clear is found, and of those told 90 % nine in ten are there. LIMNER_GRAINS=1000 LIMNER_SEED=20000 makes the full check.
import { describe, expect, it } from 'vitest';
import { identify } from '@limner/core';
import { randomGrain, scoreOf, type Score } from './grains.ts';

const GRAINS = Number(process.env['LIMNER_GRAINS'] ?? 8);
const FIRST_SEED = Number(process.env['LIMNER_SEED'] ?? 20_000);

const scores: Score[] = Array.from({ length: GRAINS }, (_, k) => {
  const grain = randomGrain(FIRST_SEED + k);
  return scoreOf(grain, identify(grain.spectrum));
});
const count = (of: (score: Score) => number): number => scores.reduce((sum, score) => sum + of(score), 0);

describe(`${GRAINS} random grains`, () => {
  it('at most 1 element invented in 100 spectra (3 sigma of chance allowed)', () => {
    const allowed = GRAINS / 100;
    expect(count(({ invented }) => invented.length)).toBeLessThanOrEqual(allowed + 3 * Math.sqrt(allowed));
  });

  it('at least 98 % of the elements that stand 8 sigma above all else are present (3 sigma of chance allowed)', () => {
    const required = count((score) => score.required);
    const missed = count((score) => score.missed.length);
    expect(required).toBeGreaterThan(GRAINS);
    expect(missed).toBeLessThanOrEqual(0.02 * required + 3 * Math.sqrt(0.02 * required));
  });

  it('probabilities between 0.1 and 0.9 are right as often as they say, over all', () => {
    const middle = scores.flatMap(({ told }) => told).filter(([probability]) => probability > 0.1 && probability < 0.9);
    const told = middle.reduce((sum, [probability]) => sum + probability, 0) / middle.length;
    const is = middle.filter(([, there]) => there).length / middle.length;
    expect(Math.abs(told - is)).toBeLessThan(0.05 + 3 * Math.sqrt(0.25 / middle.length));
  });
});

/** The figures behind the checks, with the reliability of probabilities in ten bins. */
function report(): string {
  const told = scores.flatMap((score) => score.told);
  const bins = Array.from({ length: 10 }, (_, k) => {
    const inside = told.filter(([p]) => p >= k / 10 && (p < (k + 1) / 10 || (k === 9 && p <= 1)));
    const mean = inside.reduce((sum, [p]) => sum + p, 0) / inside.length;
    const is = inside.filter(([, there]) => there).length / inside.length;
    return `${(k / 10).toFixed(1)}: ${inside.length} told ${mean.toFixed(3)}, true ${is.toFixed(3)}`;
  });
  const required = count((score) => score.required);
  const missed = count((score) => score.missed.length);
  return [
    `invented ${count(({ invented }) => invented.length)} in ${GRAINS} spectra; present ${required - missed} of ${required} required`,
    `open ${(count(({ open }) => open) / GRAINS).toFixed(2)} per spectrum; denied ${count(({ denied }) => denied.length)}`,
    ...bins,
    ...scores.flatMap(({ name, invented, missed: lost, majorsMissed }) =>
      invented.length + lost.length + majorsMissed.length > 0
        ? [
            `${name}: invented ${invented.join() || '-'}; missed ${lost.join() || '-'}; majors ${majorsMissed.join() || '-'}`,
          ]
        : [],
    ),
  ].join('\n');
}

if (process.env['LIMNER_GRAINS'] !== undefined) process.stdout.write(`${report()}\n`);

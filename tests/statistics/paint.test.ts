// Grains of 1 to 4 materials drawn by usualness, with medium, traces and surface salts, 10 to 25 keV: is the whole grain told, and what
// gives it its colour? `npm test` takes a few by the project's own simulator, bent; the full check, and another physics:
//   LIMNER_PAINT=100 LIMNER_SEED=7731 LIMNER_PYTHON=/usr/bin/python3 LIMNER_KEEP=/tmp/paint npx vitest run --config .config/vitest.config.ts tests/statistics/paint.test.ts
import { describe, expect, it } from 'vitest';
import { judgeOf } from '../../packages/core/src/evidence/observation-term.ts';
import { usualColour } from '../../packages/core/src/evidence/carriers.ts';
import { matchGrain } from '../../packages/core/src/pigments/match.ts';
import { everydayGrains, leadWhiteWithChalk } from './paint-everyday.ts';
import { drawnGrain, type PaintGrain } from './paint-grains.ts';
import { findingsIn } from './paint-readings.ts';
import { colouring, type PaintScore, scoreOf } from './paint-score.ts';

const FULL = process.env['LIMNER_PAINT'] !== undefined;
const NUMBER = Number(process.env['LIMNER_PAINT'] ?? 8);
const SEED = Number(process.env['LIMNER_SEED'] ?? 41);
const PHYSICS = { python: process.env['LIMNER_PYTHON'], keep: process.env['LIMNER_KEEP'] };
/** The bars of the design, and what chance may take from a share in so few grains (two standard errors). */
const WHOLE = 0.85;
const COLOUR = { alone: 0.85, seen: 0.95 };
const within = (bar: number, cases: number): number => bar - 2 * Math.sqrt((bar * (1 - bar)) / Math.max(1, cases));

interface Judged {
  readonly alone: PaintScore;
  /** With the colour of what gives it. */
  readonly seen: PaintScore;
}

function judged(grains: readonly PaintGrain[]): Judged[] {
  const findings = [...findingsIn(grains, PHYSICS)];
  return grains.map((grain, i) => {
    const alone = scoreOf(grain, matchGrain(findings[i]).explanations);
    const giver = colouring(grain)[0] ?? grain.parts.reduce((a, b) => (b.part > a.part ? b : a));
    const colour = usualColour(giver.id);
    if (colour === null) return { alone, seen: alone };
    const observed = judgeOf({ colour: [colour] });
    return { alone, seen: scoreOf(grain, matchGrain(findings[i], { observed }).explanations) };
  });
}

const share = (scores: readonly PaintScore[], test: (score: PaintScore) => boolean): number =>
  scores.filter(test).length / Math.max(1, scores.length);
const isWhole = ({ whole }: PaintScore): boolean => whole;
const hasColour = ({ colourFirst }: PaintScore): boolean => colourFirst !== null;
const wrong = (scores: readonly PaintScore[], test: (score: PaintScore) => boolean): string =>
  scores
    .filter((score) => !test(score))
    .map(
      ({ grain, text }) =>
        `${grain.name}: ${grain.parts.map(({ id, part }) => `${id} ${part.toFixed(2)}`).join(' + ')} -> ${text}`,
    )
    .join('\n');

describe('grains of paint', () => {
  it('are told whole, and by what gives the colour', { timeout: 3_600_000 }, () => {
    const all = judged(Array.from({ length: NUMBER }, (_, k) => drawnGrain(SEED * 1000 + 200 + k)));
    const alone = all.map((one) => one.alone);
    const seen = all.map((one) => one.seen);
    if (FULL) process.stderr.write(tableOf(alone, seen));
    expect(share(alone, isWhole), wrong(alone, isWhole)).toBeGreaterThanOrEqual(within(WHOLE, alone.length));
    for (const [scores, bar] of [
      [alone.filter(hasColour), COLOUR.alone],
      [seen.filter(hasColour), COLOUR.seen],
    ] as const) {
      const first = (score: PaintScore): boolean => score.colourFirst === true;
      expect(share(scores, first), wrong(scores, first)).toBeGreaterThanOrEqual(within(bar, scores.length));
    }
  });

  it('of everyday mixtures are told', { timeout: 3_600_000 }, () => {
    const grains = everydayGrains(SEED * 1000);
    const scores = judged(FULL ? grains : grains.filter((_, k) => k % 4 === 0)).map(({ alone }) => alone);
    if (FULL) process.stderr.write(`everyday: ${scores.filter(isWhole).length} of ${scores.length} whole\n`);
    expect(share(scores, isWhole), wrong(scores, isWhole)).toBeGreaterThanOrEqual(FULL ? 18 / 20 : 4 / 5);
  });

  it('of lead white with chalk are never calcium plumbate', { timeout: 3_600_000 }, () => {
    const grains = leadWhiteWithChalk(SEED * 1000);
    for (const { alone } of judged(FULL ? grains : grains.filter((_, k) => k % 7 === 0)))
      expect(alone.text.split(' | ')[0]).not.toContain('calcium-plumbate');
  });
});

/** Shares, and how often explanations of a weight are right. */
function tableOf(alone: readonly PaintScore[], seen: readonly PaintScore[]): string {
  const line = (name: string, all: readonly PaintScore[]): string => {
    const coloured = all.filter(hasColour);
    const first = coloured.filter(({ colourFirst }) => colourFirst === true).length;
    const strict = all.filter((score) => score.strict).length;
    return `${name}: whole ${all.filter(isWhole).length} of ${all.length} (${strict} strictly), colour first ${first} of ${coloured.length}`;
  };
  const edges = [0, 0.35, 0.5, 0.65, 0.8, 0.9, 0.97, 1.0001];
  const bins = edges.slice(1).map((to, i) => {
    const from = edges[i];
    const own = alone.filter(({ told }) => told >= from && told < to);
    const told = own.reduce((sum, score) => sum + score.told, 0) / Math.max(1, own.length);
    return `told ${from} to ${Math.min(1, to)}: ${own.length}, mean ${told.toFixed(2)}, right ${share(own, isWhole).toFixed(2)}`;
  });
  return [line('alone', alone), line('colour seen', seen), ...bins, wrong(alone, isWhole), ''].join('\n');
}

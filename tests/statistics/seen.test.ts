// Grains of paint, simulated with bent physics, whose colour is told, rightly and wrongly: what that does to the first part of the reading, and
// whether a slip can make a wrong material sure. LIMNER_SEEN=70 LIMNER_SEED=8000 makes the full check.
import { describe, expect, it } from 'vitest';
import type { Observations } from '../../packages/core/src/evidence/observations.ts';
import { usualColour } from '../../packages/core/src/evidence/carriers.ts';
import { explain } from '../../packages/core/src/identify/explain.ts';
import { findingsOf } from '../../packages/core/src/identify/findings.ts';
import type { GrainData } from '../../packages/core/src/pigments/standing.ts';
import { opticsOf } from '../../packages/core/src/pigments/optics-table.ts';
import { type Colour, COLOURS } from '../../packages/core/src/pigments/optics-words.ts';
import { matchSeen } from '../../packages/core/src/reading/grain.ts';
import { randomStream } from '../../packages/core/src/simulate/random.ts';
import { simulate } from '../../packages/core/src/simulate/simulate.ts';
import { BENT } from './grains.ts';
import { drawnGrain, type PaintGrain } from './paint-grains.ts';
import { areFamily, scoreOf } from './paint-score.ts';

const GRAINS = Number(process.env['LIMNER_SEEN'] ?? 4);
const SEED = Number(process.env['LIMNER_SEED'] ?? 7500);
const TAKE_OFF_DEG = 40;
const SURE = 0.9;

/** The colour of the largest coloured part, and one that no part shows. */
function coloursOf({ parts, seed }: PaintGrain): { readonly right: Colour; readonly wrong: Colour } {
  const coloured = parts
    .filter(({ id }) => !['white', 'colourless', null].includes(usualColour(id)))
    .sort((a, b) => b.part - a.part);
  const shown = new Set(parts.flatMap(({ id }) => opticsOf(id).colour?.value ?? []));
  const others = COLOURS.filter((colour) => !shown.has(colour));
  return {
    right: coloured.length > 0 ? usualColour(coloured[0].id)! : 'white',
    wrong: others[Math.floor(others.length * randomStream(seed, 99).uniform())],
  };
}

/** Share of each material in all explanations. */
function sharesOf(explanations: readonly GrainData[]): Map<string, number> {
  const shares = new Map<string, number>();
  for (const { parts, score } of explanations)
    for (const { id, others } of parts) {
      const rest = others.reduce((sum, { share }) => sum + share, 0);
      for (const one of [{ id, share: 1 - rest }, ...others])
        shares.set(one.id, (shares.get(one.id) ?? 0) + score * one.share);
    }
  return shares;
}

function judged(seed: number) {
  const grain = drawnGrain(seed);
  const { composition, beamKev, counts: totalCounts } = grain;
  const perturb = { seed: seed + 1, ...BENT };
  const conditions = { beamKev, takeOffDeg: TAKE_OFF_DEG, totalCounts, seed, perturb };
  const spectrum = simulate({ composition }, conditions);
  const explanation = explain(spectrum, { beamEv: beamKev * 1000, takeOffDeg: TAKE_OFF_DEG });
  const findings = findingsOf(explanation, new Map());
  const read = (seen: Observations | null) => matchSeen(findings, {}, seen).match.explanations;
  const { right, wrong } = coloursOf(grain);
  const [alone, with_, misled] = [read(null), read({ colour: [right] }), read({ colour: [wrong] })];
  const before = sharesOf(alone);
  const isTrue = (id: string): boolean => grain.parts.some((part) => areFamily(part.id, id));
  return {
    grain,
    first: [alone, with_, misled].map((explanations) => scoreOf(grain, explanations).colourFirst),
    lifted: [...sharesOf(misled)]
      .filter(([id, share]) => share > SURE && (before.get(id) ?? 0) <= SURE && !isTrue(id))
      .map(([id]) => `${wrong} ${id}`),
  };
}

describe('a colour that was seen', () => {
  const all = Array.from({ length: GRAINS }, (_, k) => judged(SEED + k));
  const firsts = (k: number): number => all.filter(({ first }) => first[k] === true).length;

  it('brings the part that gives the colour to the front', () => {
    const coloured = all.filter(({ first }) => first[0] !== null).length;
    if (process.env['LIMNER_SEEN'] !== undefined)
      process.stdout.write(
        `${coloured} coloured grains, first part right: ${firsts(0)} alone, ${firsts(1)} with the colour, ${firsts(2)} with a wrong one\n`,
      );
    expect(firsts(1)).toBeGreaterThanOrEqual(firsts(0));
    expect(firsts(1)).toBeGreaterThan(0.9 * coloured - 1);
  });

  it('makes no wrong material sure where it is a slip', () => {
    expect(all.flatMap(({ lifted }) => lifted)).toEqual([]);
  });
});

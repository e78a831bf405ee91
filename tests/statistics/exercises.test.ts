// Exercises as `limner exercise` writes them: no recipe in a file, marks that agree with separation and with what fits to the counts of the file find, and
// what students who think nothing would get. LIMNER_EXERCISES=1000 (and LIMNER_SEED=N) makes the full check; `npm test` takes a few.
import { readSpectrum } from '@limner/core';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { zOf } from '../../packages/core/src/atomic/elements.ts';
import { MATERIALS } from '../../packages/core/src/pigments/knowledge.ts';
import { compareDrawn } from '../../packages/core/src/plan/comparison.ts';
import { usualMeasurement } from '../../packages/core/src/plan/overlap.ts';
import { riseOf } from '../../packages/core/src/plan/separation.ts';
import { elementsIn, type Exercise, type Level, makeExercises } from '../../packages/core/src/teach/exercise.ts';
import {
  type Decidable,
  decidableOf,
  markOf,
  type StudentAnswer,
  withContent,
} from '../../packages/core/src/teach/marking.ts';
import { compositionOf, withoutElements } from '../../packages/core/src/teach/specimen.ts';
import { limner } from '../fixtures/cli.ts';

const NUMBER = Number(process.env['LIMNER_EXERCISES'] ?? 9);
const SEED = Number(process.env['LIMNER_SEED'] ?? 250_719);
const LEVELS: readonly Level[] = [1, 2, 3];
/** `limner exercise` writes so many at once. */
const MOST = 200;

interface Written {
  readonly exercise: Exercise;
  readonly text: string;
}

/** As many of each level, in sets as the command writes them. */
async function written(folder: string): Promise<Written[]> {
  const out: Written[] = [];
  for (const level of LEVELS)
    for (let set = 0, left = Math.ceil(NUMBER / LEVELS.length); left > 0; set++, left -= MOST) {
      const number = Math.min(MOST, left);
      const name = `level-${level}-${set}`;
      const argv = ['--level', String(level), '--seed', String(SEED + set), '--number', String(number), '--out', name];
      expect((await limner(['exercise', ...argv], { cwd: folder })).code).toBe(0);
      const files = readdirSync(join(folder, name)).filter((file) => file.endsWith('.msa'));
      const exercises = makeExercises(level, SEED + set, number);
      files
        .sort()
        .forEach((file, i) =>
          out.push({ exercise: exercises[i], text: readFileSync(join(folder, name, file), 'latin1') }),
        );
    }
  return out;
}

/** Standard deviations by which the counts of the file ask for the element. */
function foundIn({ exercise, text }: Written, { symbol, present, content }: Decidable): number {
  const truth = compositionOf(exercise.parts);
  const z = zOf(symbol)!;
  const withIt = present ? truth : withContent(truth, z, content);
  const { counts } = readSpectrum(new TextEncoder().encode(text));
  const measurement = usualMeasurement(exercise.beamKev, exercise.fwhmMnEv, exercise.counts);
  const compared = compareDrawn(withIt, withoutElements(withIt, [z]), measurement, Float64Array.from(counts));
  return compared === null ? 0 : Math.sqrt(riseOf(compared.drawn));
}

const certain = (verdict: StudentAnswer['verdict']): StudentAnswer => ({ verdict, probability: null });
/** Students who look at no spectrum, and one who knows what the counts bear. */
const STUDENTS: Readonly<Record<string, (one: Decidable) => StudentAnswer>> = {
  'always present': () => certain('present'),
  'always absent': () => certain('absent'),
  'always cannot tell': () => certain('cannot-tell'),
  'present, quite certain': () => ({ verdict: 'present', probability: 1 }),
  'what the recipe says': ({ present }) => certain(present ? 'present' : 'absent'),
  'what the counts bear': ({ decides, present }) => certain(decides ? (present ? 'present' : 'absent') : 'cannot-tell'),
};

const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

describe('exercises', () => {
  const folder = mkdtempSync(join(tmpdir(), 'limner-exercises-'));
  let all: readonly Written[] = [];
  beforeAll(async () => {
    all = await written(folder);
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('have no recipe in their files: no name, formula, element, amount, seed or salt', () => {
    const names = MATERIALS.flatMap(({ id, name, composition }) => [
      id.toLowerCase(),
      name.toLowerCase(),
      ...composition.map(({ formula }) => formula.toLowerCase()),
    ]).filter((name) => name.length > 3);
    for (const { exercise, text } of all) {
      // The commitment is a hash, which holds any four letters from A to F somewhere.
      const [header, data] = text.replace(/sha256 [0-9a-f]{64}/, '').split(/^#SPECTRUM.*$/m);
      const lower = header.toLowerCase();
      expect(names.filter((name) => lower.includes(name))).toEqual([]);
      const words = new Set(header.split(/[^A-Za-z0-9.]+/));
      const told = [...elementsIn(exercise.parts), ...exercise.parts.flatMap(({ of, share }) => [of, String(share)])];
      const drawn = [
        String(exercise.seed),
        String(exercise.seed + 1),
        exercise.salt,
        String(exercise.counts),
        String(SEED),
      ];
      expect([...told.filter((word) => word !== '100'), ...drawn].filter((word) => words.has(word))).toEqual([]);
      // After the header come counts and nothing else.
      expect(data).toMatch(/^[\s\d]*#ENDOFDATA[^\n]*\s*$/);
    }
  });

  it('are marked by what separation expects, fits to their counts find about that, and who looks at nothing gets little', () => {
    const cases = all.flatMap((one) =>
      decidableOf(one.exercise).map((decidable) => ({ one, decidable, found: foundIn(one, decidable) })),
    );
    for (const { decidable } of cases) expect(decidable.decides).toBe(decidable.sigma >= 3);
    const points = Object.entries(STUDENTS).map(([name, student]): [string, number] => [
      name,
      mean(cases.map(({ decidable }) => markOf(decidable, student(decidable)).points)),
    ]);
    const worth = new Map(points);
    const decided = cases.filter(({ decidable: { decides } }) => decides);
    const missed = decided.filter(({ decidable: { present }, found }) => present && found < 2);
    const seen = decided.filter(({ decidable: { present }, found }) => !present && found > 3);
    const ratios = decided
      .filter(({ decidable: { present } }) => present)
      .map(({ decidable: { sigma }, found }) => found / sigma)
      .sort((a, b) => a - b);
    if (process.env['LIMNER_EXERCISES'] !== undefined) {
      const at = (part: number): string => ratios[Math.floor(part * ratios.length)].toFixed(2);
      process.stdout.write(
        `${all.length} exercises, ${cases.length} elements, ${decided.length} decided; points each: ` +
          `${points.map(([name, value]) => `${name} ${value.toFixed(2)}`).join(', ')}\n` +
          `found over expected, 5 %, median, 95 %: ${at(0.05)}, ${at(0.5)}, ${at(0.95)}; there and below 2 sigma ${missed.length}, not there and above 3 sigma ${seen.length}\n` +
          [...missed, ...seen]
            .map(
              ({ one: { exercise: e }, decidable: d, found }) =>
                `  level ${e.level} ${e.parts.map(({ of, share }) => `${of} ${share}`).join(' + ')} ${e.beamKev} keV ${e.counts}: ${d.symbol} ${d.present ? 'there' : 'not there'} expected ${d.sigma.toFixed(1)}, found ${found.toFixed(1)}\n`,
            )
            .join(''),
      );
    }
    expect(worth.get('what the counts bear')).toBeGreaterThan(0.98);
    expect(worth.get('always present')).toBeLessThan(0.2);
    expect(worth.get('present, quite certain')).toBeLessThan(worth.get('always present')!);
    expect(worth.get('what the recipe says')).toBeLessThan(worth.get('what the counts bear')!);
  });
});

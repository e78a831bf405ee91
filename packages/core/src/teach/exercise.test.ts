import { describe, expect, it } from 'vitest';
import { MATERIALS } from '../pigments/knowledge.ts';
import { writeEmsa } from '../spectrum/write.ts';
import { withoutRecipe } from '../simulate/blind.ts';
import { separation } from '../plan/separation.ts';
import { usualMeasurement } from '../plan/overlap.ts';
import { zOf } from '../atomic/elements.ts';
import { type Exercise, exerciseSpectrum, type Level, makeExercises } from './exercise.ts';
import { agrees, type Decidable, decidableOf, markOf, materialMark, type StudentAnswer } from './marking.ts';
import { compositionOf, withoutElements } from './specimen.ts';
import { blankSheet, readSheet } from './sheet.ts';

const LEVELS: readonly Level[] = [1, 2, 3];
/** `LIMNER_EXERCISES=N` marks N exercises. */
const MARKED = Number(process.env['LIMNER_EXERCISES'] ?? 6);

describe('exercises', () => {
  it('are fixed by level, seed and number; a longer set begins with a shorter one', () => {
    expect(makeExercises(2, 77, 20).slice(0, 5)).toEqual(makeExercises(2, 77, 5));
    expect(makeExercises(2, 78, 5)).not.toEqual(makeExercises(2, 77, 5));
  });

  it('ask about elements that are there and about some that are not, in either case of a mixture', () => {
    const all = LEVELS.flatMap((level) => makeExercises(level, 5, 400));
    const asked = all.flatMap(({ asked, parts }) => asked.map((symbol) => compositionOf(parts)[zOf(symbol)!] > 0));
    const there = asked.filter(Boolean).length / asked.length;
    expect(there).toBeGreaterThan(0.25);
    expect(there).toBeLessThan(0.65);
    expect(new Set(all.map(({ salt }) => salt)).size).toBe(all.length);
  });

  it('carry no recipe in their files', () => {
    for (const level of LEVELS) {
      const exercise = makeExercises(level, 2024, 1)[0];
      const blind = withoutRecipe(exerciseSpectrum(exercise), { exercise: '1', commitment: '0'.repeat(64) });
      const header = writeEmsa(blind).split('#SPECTRUM')[0];
      for (const { of } of exercise.parts) expect(header).not.toContain(of);
      for (const word of [String(exercise.seed), exercise.salt, 'BODY', 'SEED', 'PERTURBED', 'COUNTS'])
        expect(header).not.toContain(word);
      const names = MATERIALS.flatMap(({ id, name }) => [id, name]).filter((name) => name.length > 5);
      expect(names.filter((name) => header.toLowerCase().includes(name.toLowerCase()))).toEqual([]);
    }
  });
});

describe('marks', () => {
  const told: Decidable = {
    symbol: 'S',
    present: true,
    sigma: 8,
    decides: true,
    recorded: true,
    countsNeeded: 1e4,
    mostSigma: 20,
    content: 0.02,
    lines: [],
  };
  const saying = (verdict: StudentAnswer['verdict'], odds: number | null = null): StudentAnswer => ({ verdict, odds });
  const points = (decidable: Decidable, answer: StudentAnswer): number => markOf(decidable, answer).points;

  it('are full for "cannot tell" below 3 sigma, and nothing for it above', () => {
    expect(points({ ...told, decides: false }, saying('cannot-tell'))).toBe(1);
    expect(points(told, saying('cannot-tell'))).toBe(0);
  });

  it('cost most for being certain and wrong', () => {
    const wrong = points({ ...told, present: false }, saying('present', 1));
    expect(wrong).toBe(-3);
    const all = [0, 0.25, 0.5, 0.75, 1].flatMap((odds) =>
      [true, false].map((present) => points({ ...told, present }, saying('cannot-tell', odds))),
    );
    expect(Math.min(...all)).toBe(wrong);
  });

  it('are proper: of all odds those that one believes pay best on average', () => {
    for (const belief of [0.1, 0.35, 0.5, 0.8, 0.99]) {
      const worth = (odds: number): number =>
        belief * points(told, saying('cannot-tell', odds)) +
        (1 - belief) * points({ ...told, present: false }, saying('cannot-tell', odds));
      const best = Array.from({ length: 101 }, (_, k) => k / 100).reduce((a, b) => (worth(b) > worth(a) ? b : a));
      expect(best).toBeCloseTo(belief, 9);
    }
  });

  it('take a verdict and odds that contradict each other for a slip', () => {
    expect(agrees(saying('present', 0.3))).toBe(false);
    expect(agrees(saying('absent', 0.7))).toBe(false);
    expect(agrees(saying('cannot-tell', 0.5))).toBe(true);
  });

  it('agree with separation, and give a student who always says "present" little', () => {
    const exercises = LEVELS.flatMap((level) => makeExercises(level, 31, Math.ceil(MARKED / 3)));
    let [always, honest, count] = [0, 0, 0];
    for (const exercise of exercises) {
      for (const one of decidableOf(exercise)) {
        if (one.present) expect(one.sigma ** 2).toBeCloseTo(chiSquareOf(exercise, one.symbol), 6);
        expect(one.decides).toBe(one.sigma >= 3);
        always += points(one, saying('present'));
        honest += points(one, one.decides ? saying(one.present ? 'present' : 'absent') : saying('cannot-tell'));
        count++;
      }
    }
    if (MARKED > 20)
      process.stdout.write(
        `${count} elements: always present ${(always / count).toFixed(2)}, by the counts ${(honest / count).toFixed(2)} each\n`,
      );
    expect(honest / count).toBeGreaterThan(0.98);
    expect(always / count).toBeLessThan(0.2);
  });

  const chiSquareOf = ({ parts, beamKev, fwhmMnEv, counts }: Exercise, symbol: string): number => {
    const truth = compositionOf(parts);
    return separation(truth, withoutElements(truth, [zOf(symbol)!]), usualMeasurement(beamKev, fwhmMnEv, counts))
      .chiSquare;
  };

  it('take a material that elements cannot tell from the right one', () => {
    const exercise = { ...makeExercises(1, 1, 1)[0], parts: [{ of: 'azurite', share: 100 }] };
    expect(materialMark(exercise, 'Azurite')).toEqual({ points: 1, known: true });
    expect(materialMark(exercise, 'malachite')).toEqual({ points: 1, known: true });
    expect(materialMark(exercise, 'vermilion')).toEqual({ points: 0, known: true });
    expect(materialMark(exercise, 'moonstone')).toEqual({ points: 0, known: false });
  });
});

describe('a sheet', () => {
  const exercises = makeExercises(1, 3, 2);
  const rowsOf = (sheet: readonly (readonly string[])[]) =>
    sheet.slice(1).map((cells, i) => ({ line: i + 2, cells: new Map(sheet[0].map((name, k) => [name, cells[k]])) }));

  it('has a row per element and one for the material, and is read back', () => {
    const blank = blankSheet(exercises);
    expect(blank.length).toBe(1 + exercises.reduce((sum, { asked }) => sum + asked.length + 1, 0));
    expect(readSheet(rowsOf(blank), exercises)).toMatchObject({ faults: [] });
    const symbol = exercises[0].asked[0];
    const filled = [blank[0], ['1', symbol, 'Cannot tell', '50 %'], ['1', 'material', 'chalk', '']];
    const { answers, materials, faults } = readSheet(rowsOf(filled), exercises);
    expect(faults).toEqual([]);
    expect([...answers.values()]).toEqual([{ verdict: 'cannot-tell', odds: 0.5 }]);
    expect([...materials.values()]).toEqual(['chalk']);
  });

  it.each([
    [['9', 'S', 'present', ''], /no exercise '9'/],
    [['1', 'Xx', 'present', ''], /does not ask about 'Xx'/],
    [['1', '?', 'maybe', ''], /'maybe' is not an answer/],
    [['1', '?', 'present', '200'], /odds of '200'/],
    [['1', '?', 'present', '10'], /contradict each other/],
  ])('names what cannot be read: %j', (cells, message) => {
    const row = cells.map((text) => (text === '?' ? exercises[0].asked[0] : text));
    expect(readSheet(rowsOf([['exercise', 'about', 'answer', 'odds'], row]), exercises).faults[0]).toMatch(message);
  });
});

import { describe, expect, it } from 'vitest';
import { zOf } from '../atomic/elements.ts';
import { type Level, makeExercises } from './exercise.ts';
import { agrees, type Decidable, markOf, materialMark, type StudentAnswer } from './marking.ts';
import { compositionOf } from './specimen.ts';
import { blankSheet, readSheet } from './sheet.ts';

const LEVELS: readonly Level[] = [1, 2, 3];

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
  const saying = (verdict: StudentAnswer['verdict'], probability: number | null = null): StudentAnswer => ({
    verdict,
    probability,
  });
  const points = (decidable: Decidable, answer: StudentAnswer): number => markOf(decidable, answer).points;

  it('are full for "cannot tell" below 3 sigma, and nothing for it above', () => {
    expect(points({ ...told, decides: false }, saying('cannot-tell'))).toBe(1);
    expect(points(told, saying('cannot-tell'))).toBe(0);
  });

  it('cost most for being certain and wrong', () => {
    const wrong = points({ ...told, present: false }, saying('present', 1));
    expect(wrong).toBe(-3);
    const all = [0, 0.25, 0.5, 0.75, 1].flatMap((probability) =>
      [true, false].map((present) => points({ ...told, present }, saying('cannot-tell', probability))),
    );
    expect(Math.min(...all)).toBe(wrong);
  });

  it('are proper: the probability that one believes in pays best on average', () => {
    for (const belief of [0.1, 0.35, 0.5, 0.8, 0.99]) {
      const worth = (probability: number): number =>
        belief * points(told, saying('cannot-tell', probability)) +
        (1 - belief) * points({ ...told, present: false }, saying('cannot-tell', probability));
      const best = Array.from({ length: 101 }, (_, k) => k / 100).reduce((a, b) => (worth(b) > worth(a) ? b : a));
      expect(best).toBeCloseTo(belief, 9);
    }
  });

  it('take a verdict and a probability that contradict each other for a slip', () => {
    expect(agrees(saying('present', 0.3))).toBe(false);
    expect(agrees(saying('absent', 0.7))).toBe(false);
    expect(agrees(saying('cannot-tell', 0.5))).toBe(true);
  });

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
    expect([...answers.values()]).toEqual([{ verdict: 'cannot-tell', probability: 0.5 }]);
    expect([...materials.values()]).toEqual(['chalk']);
  });

  it.each([
    [['9', 'S', 'present', ''], /no exercise '9'/],
    [['1', 'Xx', 'present', ''], /does not ask about 'Xx'/],
    [['1', '?', 'maybe', ''], /'maybe' is not an answer/],
    [['1', '?', 'present', '200'], /probability '200'/],
    [['1', '?', 'present', '10'], /contradict each other/],
  ])('names what cannot be read: %j', (cells, message) => {
    const row = cells.map((text) => (text === '?' ? exercises[0].asked[0] : text));
    expect(readSheet(rowsOf([['exercise', 'about', 'answer', 'probability'], row]), exercises).faults[0]).toMatch(
      message,
    );
  });
});

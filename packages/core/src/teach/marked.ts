import type { Exercise } from './exercise.ts';
import { type Decidable, decidableOf, type Mark, markOf, materialMark, type StudentAnswer } from './marking.ts';
import { markText } from './mark-words.ts';
import { partName } from './specimen.ts';
import { answerKey, MATERIAL, type ReadSheet } from './sheet.ts';

/** A line of a marked sheet. */
export interface MarkedLine {
  readonly exercise: number;
  readonly about: string;
  readonly said: string;
  readonly points: number;
  readonly most: number;
  readonly why: string;
}

/** What the counts of each exercise decide: made once for all students. */
export const decidables = (exercises: readonly Exercise[]): ReadonlyMap<number, readonly Decidable[]> =>
  new Map(exercises.map((exercise) => [exercise.number, decidableOf(exercise)]));

/** Saying nothing is worth what "cannot tell" is. */
const NOTHING_SAID: StudentAnswer = { verdict: 'cannot-tell', probability: 0.5 };

/** A student's sheet marked, a line per element and one per material. */
export function markSheet(
  exercises: readonly Exercise[],
  decided: ReadonlyMap<number, readonly Decidable[]>,
  sheet: ReadSheet,
): MarkedLine[] {
  return exercises.flatMap((exercise) => [
    ...(decided.get(exercise.number) ?? []).map((one) => elementLine(exercise, one, sheet)),
    materialLine(exercise, sheet.materials.get(exercise.number)),
  ]);
}

function elementLine({ number }: Exercise, decidable: Decidable, { answers }: ReadSheet): MarkedLine {
  const given = answers.get(answerKey(number, decidable.symbol));
  const mark: Mark = markOf(decidable, given ?? NOTHING_SAID);
  return {
    exercise: number,
    about: decidable.symbol,
    said: given?.verdict ?? '',
    points: Number(mark.points.toFixed(2)),
    most: 1,
    why: markText(decidable, mark),
  };
}

function materialLine(exercise: Exercise, named: string | undefined): MarkedLine {
  const parts = exercise.parts.map(({ of, share }) => `${partName(of)} (${share})`).join(', ');
  const { points, known } = named === undefined ? { points: 0, known: true } : materialMark(exercise, named);
  const unknown = known ? '' : ` '${named}' is not a material on the list.`;
  return {
    exercise: exercise.number,
    about: MATERIAL,
    said: named ?? '',
    points,
    most: 1,
    why: `The grain consists of (parts by mass): ${parts}.${unknown}`,
  };
}

/** Points got and points that could be had. */
export const total = (lines: readonly MarkedLine[]): { readonly points: number; readonly most: number } => ({
  points: Number(lines.reduce((sum, { points }) => sum + points, 0).toFixed(2)),
  most: lines.reduce((sum, { most }) => sum + most, 0),
});

import {
  decidables,
  type Exercise,
  type Level,
  makeExercises,
  type MarkedLine,
  markSheet,
  readSheet,
  recipeText,
  total,
} from '@limner/core';
import { causeOf, csv, csvRows } from '@limner/session';
import { readFile } from 'node:fs/promises';
import { basename, resolve } from 'node:path';
import { complain, EXIT, exitCodeOf, type Io, UsageError } from './io.ts';
import { marksPage, type MarkedSheet } from './marks-page.ts';
import { newFolder } from './new-folder.ts';

/** Marks sheets by a key: a line per sheet to standard output, with --out a table each, one of the class and a page to print. */
export async function markSheets(
  io: Io,
  names: readonly string[],
  key: string,
  out: string | undefined,
): Promise<number> {
  const exercises = exercisesFrom(await textOf(io, key), key);
  const decided = decidables(exercises);
  const sheets: MarkedSheet[] = [];
  for (const name of names) {
    try {
      const read = readSheet(csvRows(await readFile(resolve(io.cwd, name), 'utf8')), exercises);
      for (const fault of read.faults) complain(io, `${name}, ${fault}; it is marked as not answered`);
      const lines = markSheet(exercises, decided, read);
      sheets.push({ name: basename(name).replace(/\.csv$/i, ''), lines, ...total(lines) });
    } catch (error) {
      complain(io, `${name}: ${causeOf(error)}`);
    }
  }
  const classRows = [['sheet', 'points', 'of'], ...sheets.map(({ name, points, most }) => [name, points, most])];
  if (out !== undefined && sheets.length > 0) {
    const files = new Map(sheets.map((sheet) => [`${sheet.name}-marks.csv`, csv(rowsOf(sheet.lines))]));
    files.set('class.csv', csv(classRows));
    files.set('marks.html', marksPage(sheets));
    await newFolder(resolve(io.cwd, out), out, files);
  }
  if (sheets.length > 0) io.stdout.write(csv(classRows));
  return sheets.length === 0 ? EXIT.nothingRead : exitCodeOf(sheets.length, names.length - sheets.length);
}

const rowsOf = (lines: readonly MarkedLine[]): (string | number)[][] => [
  ['exercise', 'about', 'answer', 'points', 'of', 'why'],
  ...lines.map(({ exercise, about, said, points, most, why }) => [exercise, about, said, points, most, plain(why)]),
];

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

async function textOf(io: Io, name: string): Promise<string> {
  try {
    return await readFile(resolve(io.cwd, name), 'utf8');
  } catch {
    throw new UsageError(`--key ${name}: no such file; it was written beside the exercises`);
  }
}

/** The exercises of a key, made anew and compared with what it says. @throws UsageError */
function exercisesFrom(text: string, name: string): Exercise[] {
  const refused = (why: string): UsageError => new UsageError(`--key ${name}: ${why}`);
  let key: { schema?: unknown; level?: unknown; seed?: unknown; number?: unknown; recipes?: unknown };
  try {
    key = JSON.parse(text) as typeof key;
  } catch {
    throw refused('not an exercise key');
  }
  const { schema, level, seed, number, recipes } = key;
  const sound =
    schema === 'limner-exercise-key/1' &&
    [1, 2, 3].includes(level as number) &&
    Number.isSafeInteger(seed) &&
    Number.isSafeInteger(number) &&
    (number as number) <= 1000 &&
    Array.isArray(recipes);
  if (!sound) throw refused('not an exercise key');
  const exercises = makeExercises(level as Level, seed as number, number as number);
  if (exercises.map(recipeText).join() !== (recipes as string[]).join())
    throw refused('its recipes are not those of its seed; another version of Limner made it, or it was changed');
  return exercises;
}

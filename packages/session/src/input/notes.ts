import type { NewNote, Note } from '@limner/core';
import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { InputError, messageOf } from './load.ts';
import { writeWhole } from './whole-file.ts';

/** Name of the file of notes in a folder of spectra or of results. */
export const NOTES = '.limner-notes.json';
const SCHEMA = 'limner-notes/1';
/** Some ten thousand notes. */
const LARGEST_BYTES = 16 * 2 ** 20;
const FIELDS = ['file', 'sha256', 'kind', 'id', 'answer', 'reason', 'by', 'at'] as const;

/** All notes of a folder, in the order in which they were made; none where there is no file. @throws InputError */
export async function notesIn(folder: string): Promise<Note[]> {
  const path = join(folder, NOTES);
  const info = await stat(path).catch(() => null);
  if (info === null) return [];
  if (info.size > LARGEST_BYTES) throw new InputError(path, 'too large for a file of notes; move it away');
  try {
    const { schema, notes } = JSON.parse(await readFile(path, 'utf8')) as { schema: unknown; notes: unknown };
    if (schema === SCHEMA && Array.isArray(notes) && notes.every(isNote)) return notes;
  } catch (error) {
    throw new InputError(path, `it cannot be read (${messageOf(error)}); repair it or move it away`, { cause: error });
  }
  throw new InputError(path, 'this is not a file of Limner notes; move it away');
}

const isNote = (value: unknown): value is Note =>
  typeof value === 'object' &&
  value !== null &&
  FIELDS.every((field) => typeof (value as Record<string, unknown>)[field] === 'string');

/** Puts notes in the place of those of a folder, all at once; others never see half of them. @throws InputError */
export async function keepNotes(folder: string, notes: readonly Note[]): Promise<void> {
  const path = join(folder, NOTES);
  try {
    await writeWhole(path, `${JSON.stringify({ schema: SCHEMA, notes }, null, 1)}\n`);
  } catch (error) {
    const reason = `the note cannot be kept (${messageOf(error)}); check that the folder can be written to`;
    throw new InputError(path, reason, { cause: error });
  }
}

/** Adds a note to those of a folder, and tells all of them. @param now the time to keep with it @throws InputError */
export async function addNote(folder: string, note: NewNote, now: Date): Promise<Note[]> {
  const notes = [...(await notesIn(folder)), { ...note, at: `${now.toISOString().slice(0, 19)}Z` }];
  await keepNotes(folder, notes);
  return notes;
}

/** Notes of several folders, each once, in the order in which they were made. */
export function joinedNotes(...lists: readonly (readonly Note[])[]): Note[] {
  const byText = new Map(lists.flat().map((note) => [JSON.stringify(FIELDS.map((field) => note[field])), note]));
  return [...byText.values()].sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0));
}

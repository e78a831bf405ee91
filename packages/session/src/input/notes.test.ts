import { type NewNote, standingNotes } from '@limner/core';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { folderWith } from '../../../../tests/fixtures/folder.ts';
import { InputError } from './load.ts';
import { addNote, joinedNotes, NOTES, notesIn } from './notes.ts';

const note = (more: Partial<NewNote> = {}): NewNote => ({
  file: 'a.msa',
  sha256: 'a'.repeat(64),
  kind: 'element',
  id: 'Pb',
  answer: 'accepted',
  reason: 'its L lines stand alone',
  by: 'A. Reader',
  ...more,
});
const at = (minute: number): Date => new Date(Date.UTC(2026, 10, 28, 10, minute));

it('keeps every note, and lets the last of a person on a thing stand', async () => {
  const folder = folderWith({ 'a.msa': '' });
  await addNote(folder, note(), at(1));
  await addNote(folder, note({ by: 'B. Reader', answer: 'rejected' }), at(2));
  const all = await addNote(folder, note({ answer: 'withdrawn' }), at(3));
  expect(all).toHaveLength(3);
  expect(await notesIn(folder)).toEqual(all);
  expect(standingNotes(all).map(({ by, at: when }) => [by, when])).toEqual([['B. Reader', '2026-11-28T10:02:00Z']]);
  // Nothing half-written stays beside them.
  expect(readdirSync(folder).sort()).toEqual([NOTES, 'a.msa']);
});

it('never writes over a file that holds no notes', async () => {
  for (const text of ['{"schema":"other"}', 'not JSON', '{"schema":"limner-notes/1","notes":[{"by":1}]}']) {
    const folder = folderWith({ [NOTES]: text });
    await expect(addNote(folder, note(), at(1))).rejects.toThrow(InputError);
    expect(readFileSync(join(folder, NOTES), 'utf8')).toBe(text);
  }
});

it('joins the notes of two folders, each once, by time', async () => {
  const folder = folderWith({});
  const first = await addNote(folder, note(), at(5));
  const both = joinedNotes(first, [...first, { ...note({ id: 'Sn' }), at: '2026-11-28T10:01:00Z' }]);
  expect(both.map(({ id }) => id)).toEqual(['Sn', 'Pb']);
});

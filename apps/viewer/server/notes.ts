import { NewNote, type Note, standingNotes } from '@limner/core';
import { addNote, InputError, notesIn } from '@limner/session';
import type { FastifyInstance } from 'fastify';
import { ViewerError } from './guard.ts';
import type { OpenedFiles } from './opened.ts';

/** The only address that takes anything. */
export const NOTES_ADDRESS = '/api/notes';
/** A note with the longest reason, in letters of four bytes. */
const LARGEST_NOTE_BYTES = 16 * 1024;

/** Notes of the folder on show: told to the page, and taken from it one by one. @param folder that keeps them */
export function addNotes(app: FastifyInstance, folder: string, opened: OpenedFiles): void {
  // One at a time: each is added to what the one before has left.
  let last: Promise<unknown> = Promise.resolve();
  app.get(NOTES_ADDRESS, async () => standing(notesIn(folder)));
  app.post<{ Body: NewNote }>(
    NOTES_ADDRESS,
    { bodyLimit: LARGEST_NOTE_BYTES, schema: { body: NewNote } },
    async ({ body }) => {
      if (!opened.isOnShow(body.file))
        throw new ViewerError(404, `No spectrum of this session is called ${JSON.stringify(body.file)}.`);
      const kept = last.then(() => addNote(folder, body, new Date()));
      last = kept.catch(() => undefined);
      return standing(kept);
    },
  );
}

async function standing(notes: Promise<Note[]>): Promise<Note[]> {
  try {
    return standingNotes(await notes);
  } catch (error) {
    throw error instanceof InputError ? new ViewerError(409, error.message) : error;
  }
}

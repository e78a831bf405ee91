import type { Note } from '@limner/core';
import { csv } from '../input/csv.ts';

export const NOTE_COLUMNS = ['file', 'kind', 'id', 'answer', 'reason', 'by', 'at', 'sha256'] as const;
export const NOTE_HEADING = csv([[...NOTE_COLUMNS]]);

/** The rows of notes.csv: the notes that stand, by file. */
export const noteRows = (notes: readonly Note[]): string =>
  csv(notes.map((note) => NOTE_COLUMNS.map((column) => note[column])));

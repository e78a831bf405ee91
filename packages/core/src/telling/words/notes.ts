// Words for the notes that people make on a reading.

import type { Note } from '../../record/notes.ts';

/** What notes are called in the page and the report, and what may be answered. */
export const NOTE_WORDS = {
  title: 'Notes',
  hint: 'A note is kept with the spectra, with your name and the time. It never alters the reading.',
  elsewhere:
    'Notes are kept with the spectra of the folder on show. This file was opened in the page only, so it takes no notes.',
  answers: { accepted: 'accept', rejected: 'reject', remark: 'remark only', withdrawn: 'withdraw my note' },
} as const;

const ANSWERED: Readonly<Record<Note['answer'], string>> = {
  accepted: 'accepted',
  rejected: 'rejected',
  remark: 'remark',
  withdrawn: 'withdrawn',
};

/** 'rejected by A. Reader, 2026-11-28 10:30 UTC: the line lies on the escape peak'. @param sha256 of the file as it is now */
export function noteText({ answer, by, at, reason, sha256: then }: Note, sha256: string): string {
  const when = `${at.slice(0, 10)} ${at.slice(11, 16)}\u00a0UTC`;
  const why = reason.trim() === '' ? '' : `: ${reason.trim()}`;
  return `${ANSWERED[answer]} by ${by}, ${when}${why}${then === sha256 ? '' : ' (made on another version of the file)'}`;
}

/** 'Pb accepted; vermilion rejected', for a cell. @param nameOf name of a material */
export const notesInBrief = (notes: readonly Note[], nameOf: (id: string) => string): string =>
  notes.map(({ kind, id, answer }) => `${kind === 'element' ? id : nameOf(id)} ${ANSWERED[answer]}`).join('; ');

/** What a fold of notes is called: how many there are and what they say. */
export function notesTitle(notes: readonly Note[]): string {
  if (notes.length === 0) return 'Make a note';
  const said = notes.map(({ answer, by }) => `${ANSWERED[answer]} by ${by}`).join(', ');
  return `${notes.length === 1 ? '1\u00a0note' : `${notes.length}\u00a0notes`}: ${said}`;
}

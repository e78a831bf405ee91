import { Type, type Static } from 'typebox';

/** What a person says of an element or a material of a reading, before it is kept. It never alters the reading. */
export const NewNote = Type.Object(
  {
    /** The spectrum: its path below the folder on show, with '/' between names. */
    file: Type.String({ minLength: 1, maxLength: 1000 }),
    /** SHA-256 of the file as it was read, so that a note on another state of it can be told. */
    sha256: Type.String({ pattern: '^[0-9a-f]{64}$' }),
    kind: Type.Union([Type.Literal('element'), Type.Literal('material')]),
    /** Symbol of the element, or id of the material. */
    id: Type.String({ minLength: 1, maxLength: 100 }),
    answer: Type.Union([
      Type.Literal('accepted'),
      Type.Literal('rejected'),
      Type.Literal('remark'),
      Type.Literal('withdrawn'),
    ]),
    reason: Type.String({ maxLength: 2000 }),
    by: Type.String({ minLength: 1, maxLength: 100, pattern: '\\S' }),
  },
  { additionalProperties: false },
);
export type NewNote = Static<typeof NewNote>;

/** A kept note. */
export interface Note extends NewNote {
  /** When it was kept: UTC, ISO 8601 to the second. */
  readonly at: string;
}

/**
 * The notes that stand, in the order in which they were made: of one person on one thing the last, and none that was withdrawn. Earlier
 * ones stay in the file.
 */
export function standingNotes(notes: readonly Note[]): Note[] {
  const keyOf = ({ file, kind, id, by }: Note): string => JSON.stringify([file, kind, id, by]);
  const last = new Map(notes.map((note) => [keyOf(note), note]));
  return notes.filter((note) => last.get(keyOf(note)) === note && note.answer !== 'withdrawn');
}

import { elementName, materialById, NOTE_WORDS, noteText, type Note, zOf } from '@limner/core';
import { escape } from './report-parts.ts';

/** The notes on one spectrum, for its section of the report; '' where there are none. @param sha256 of the spectrum */
export function notesPart(notes: readonly Note[], sha256: string): string {
  if (notes.length === 0) return '';
  const items = notes.map((note) => `<li><b>${escape(noteName(note))}</b> ${escape(noteText(note, sha256))}</li>`);
  return `<h3>${NOTE_WORDS.title}</h3><ul class="notes">${items.join('')}</ul>`;
}

/** What a note is on: 'lead' or 'vermilion'; the id of a material that the table does not hold. */
export function noteName({ kind, id }: Note): string {
  if (kind === 'material') return materialName(id);
  const z = zOf(id);
  return z === undefined ? id : elementName(z);
}

export const materialName = (id: string): string => materialById(id)?.name ?? id;

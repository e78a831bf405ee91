import { NOTE_WORDS, type NewNote, type Note, notesTitle, noteText } from '@limner/core';
import { h } from '../dom.ts';
import { fetchJson } from '../reader.ts';
import { noteForm, type Said } from './note-form.ts';

/** What a note is on: an element or a material of the reading on show. */
export type Thing = Pick<NewNote, 'kind' | 'id'>;

/** Notes of the folder on show. @throws with the server's message */
export const fetchNotes = (): Promise<Note[]> => fetchJson<Note[]>('api/notes');

const send = (note: NewNote): Promise<Note[]> =>
  fetchJson<Note[]>('api/notes', {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(note),
  });

/** The notes on one spectrum, beside what they are on. */
export class Notes {
  readonly #file: string;
  readonly #sha256: string;
  #all: readonly Note[];

  /** @param all notes of the folder that stand */
  constructor(file: string, sha256: string, all: readonly Note[]) {
    this.#file = file;
    this.#sha256 = sha256;
    this.#all = all;
  }

  /** The notes on a thing as a fold, with the form for another. */
  on = (thing: Thing): HTMLElement => {
    const title = h('summary', {});
    const said = h('ul', {});
    const its = (): Note[] =>
      this.#all.filter(({ file, kind, id }) => file === this.#file && kind === thing.kind && id === thing.id);
    const fold = h('details', { class: 'folded notes', id: `${thing.kind}-${thing.id}-notes` }, title, said);
    const render = (): void => {
      title.textContent = notesTitle(its());
      said.replaceChildren(...its().map((note) => h('li', {}, noteText(note, this.#sha256))));
      fold.toggleAttribute('data-paper', its().length > 0);
      fold.classList.toggle('screen-only', its().length === 0);
    };
    const keep = async (words: Said): Promise<void> => {
      this.#all = await send({ ...thing, ...words, file: this.#file, sha256: this.#sha256 });
      render();
    };
    // Made when it is asked for: a reading has hundreds of materials.
    fold.addEventListener('toggle', () => fold.append(noteForm(thing.id, keep)), { once: true });
    render();
    return fold;
  };
}

/** In the place of notes where none can be kept. */
export const noNotes = (): HTMLElement => h('p', { class: 'lead-in screen-only' }, NOTE_WORDS.elsewhere);

import { NOTE_WORDS, type NewNote } from '@limner/core';
import { textOf } from '../changes/forms.ts';
import { h } from '../dom.ts';
import { keptText, keepText } from '../kept.ts';

export type Said = Pick<NewNote, 'answer' | 'reason' | 'by'>;

const NAME_KEPT_AS = 'limner name';

/** The form for a note; the name is kept in this browser for the next one. @param keep rejects with what is wrong */
export function noteForm(id: string, keep: (said: Said) => Promise<void>): HTMLElement {
  const told = h('span', { class: 'note', role: 'status' });
  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    const [answer, reason, by] = ['answer', 'reason', 'by'].map((name) => textOf(form, name));
    keepText(NAME_KEPT_AS, by);
    try {
      await keep({ answer: answer as Said['answer'], reason, by });
      told.textContent = '';
      form.querySelector<HTMLInputElement>('[name=reason]')!.value = '';
    } catch (error) {
      told.textContent = error instanceof Error ? error.message : String(error);
    }
  };
  const answers = Object.entries(NOTE_WORDS.answers).map(([value, text]) => h('option', { value }, text));
  return h(
    'form',
    { class: 'argument screen-only', 'aria-label': `Note on ${id}`, onsubmit: (event) => void submit(event) },
    h('label', { class: 'brief' }, 'I', h('select', { name: 'answer' }, answers)),
    h('label', { class: 'long' }, 'reason', h('input', { name: 'reason', maxlength: 2000, autocomplete: 'off' })),
    h(
      'label',
      {},
      'my name',
      h('input', { name: 'by', required: true, maxlength: 100, pattern: '.*\\S.*', value: keptText(NAME_KEPT_AS) }),
    ),
    h('button', { type: 'submit' }, 'keep the note'),
    h('p', { class: 'hint' }, NOTE_WORDS.hint),
    told,
  );
}

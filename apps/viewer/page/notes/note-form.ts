import { NOTE_WORDS, type NewNote } from '@limner/core';
import { sendButton, smallForm, textOf } from '../changes/forms.ts';
import { h } from '../dom.ts';
import { keptText, keepText } from '../kept.ts';

export type Said = Pick<NewNote, 'answer' | 'reason' | 'by'>;

const NAME_KEPT_AS = 'limner name';

/** The form for a note; the name is kept in this browser for the next one. @param keep rejects with what is wrong */
export function noteForm(id: string, keep: (said: Said) => Promise<void>): HTMLElement {
  const act = async (form: HTMLFormElement): Promise<void> => {
    const [answer, reason, by] = ['answer', 'reason', 'by'].map((name) => textOf(form, name));
    keepText(NAME_KEPT_AS, by);
    await keep({ answer: answer as Said['answer'], reason, by });
    form.querySelector<HTMLInputElement>('[name=reason]')!.value = '';
  };
  const answers = Object.entries(NOTE_WORDS.answers).map(([value, text]) => h('option', { value }, text));
  const name = { name: 'by', required: true, maxlength: 100, pattern: '.*\\S.*', value: keptText(NAME_KEPT_AS) };
  return smallForm(
    `Note on ${id}`,
    act,
    [
      h('label', { class: 'brief' }, 'I', h('select', { name: 'answer' }, answers)),
      h('label', { class: 'long' }, 'reason', h('input', { name: 'reason', maxlength: 2000, autocomplete: 'off' })),
      h('label', {}, 'my name', h('input', name)),
      sendButton('keep the note'),
      h('p', { class: 'hint' }, NOTE_WORDS.hint),
    ],
    'argument screen-only',
  );
}

import { type Changes, OBSERVATION_NAMES, observationsIn } from '@limner/core';
import { h } from '../dom.ts';
import { type Apply, textOf } from './forms.ts';

/** What else was seen of the grain: a property, and the words or numbers for it; core says what it can take. */
export function seenForm(changes: Changes, apply: Apply): HTMLElement {
  const note = h('span', { class: 'note', role: 'status' });
  const submit = (event: Event): void => {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    const seen = { ...changes.seen, [textOf(form, 'property')]: textOf(form, 'words') };
    try {
      observationsIn(Object.entries(seen));
      apply({ ...changes, seen });
    } catch (error) {
      note.textContent = error instanceof Error ? error.message : String(error);
    }
  };
  return h(
    'form',
    { class: 'argument', 'aria-label': 'What else was seen', onsubmit: submit },
    h(
      'label',
      {},
      'Also seen',
      h(
        'select',
        { id: 'argue-seen', name: 'property' },
        OBSERVATION_NAMES.map((name) =>
          h('option', { value: name }, name.replace('_um', ', µm').replace('_cm1', ', cm⁻¹')),
        ),
      ),
    ),
    h('label', {}, 'as', h('input', { name: 'words', required: true, placeholder: 'blue+white' })),
    h('button', { type: 'submit' }, 'add'),
    note,
  );
}

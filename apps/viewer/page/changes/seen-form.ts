import { type Changes, OBSERVATION_NAMES, observationsIn } from '@limner/core';
import { h } from '../dom.ts';
import { type Apply, sendButton, smallForm, textOf } from './forms.ts';

/** What else was seen of the grain: a property, and the words or numbers for it; core says what it can take. */
export function seenForm(changes: Changes, apply: Apply): HTMLElement {
  const act = (form: HTMLFormElement): void => {
    const seen = { ...changes.seen, [textOf(form, 'property')]: textOf(form, 'words') };
    observationsIn(Object.entries(seen));
    apply({ ...changes, seen });
  };
  const options = OBSERVATION_NAMES.map((name) =>
    h('option', { value: name }, name.replace('_um', ', µm').replace('_cm1', ', cm⁻¹')),
  );
  return smallForm('What else was seen', act, [
    h('label', {}, 'Also seen', h('select', { id: 'argue-seen', name: 'property' }, options)),
    h('label', {}, 'as', h('input', { name: 'words', required: true, placeholder: 'blue+white' })),
    sendButton('add'),
  ]);
}

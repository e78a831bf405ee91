import { type Changes, CHANGES_HINT, changesTold, MOUNT_NAMES, mountText } from '@limner/core';
import { h } from '../dom.ts';
import { ELEMENT_NAMES, symbolFrom, unknownElement } from '../element-field.ts';
import { seenForm } from './seen-form.ts';
import { materialsForm, referenceForm } from './given-forms.ts';
import { axisForm, type Apply, numberOf, numberForm, textOf } from './forms.ts';

/** What the panel shows and does. */
export interface Arguing {
  readonly changes: Changes;
  /** What the changes came to, in words; none where nothing is changed. */
  readonly told: readonly string[];
  readonly apply: Apply;
  /** Undefined where there is nothing to undo or redo. */
  readonly undo: (() => void) | undefined;
  readonly redo: (() => void) | undefined;
}

/** The place where a person argues with a reading: a small form for each kind of change, and the changes made. */
export function arguePanel(arguing: Arguing): HTMLElement {
  const { changes, told, apply, undo, redo } = arguing;
  const made = changesTold(changes);
  const button = (id: string, text: string, act: (() => void) | undefined) =>
    h('button', { id, type: 'button', disabled: !act, onclick: () => act?.() }, text);
  return h(
    'details',
    { class: 'argue', id: 'argue', open: made.length > 0 },
    h('summary', {}, 'Question this reading'),
    h('p', { class: 'lead-in screen-only' }, CHANGES_HINT),
    h(
      'div',
      { class: 'argue-forms screen-only' },
      elementForm('claim', 'Claim an element', changes, apply),
      elementForm('without', 'Exclude an element', changes, apply),
      mountForm(changes, apply),
      seenForm(changes, apply),
      numberForm('beam', 'Beam energy, keV', '0.5', changes.beamKev, (beamKev) => apply({ ...changes, beamKev })),
      numberForm('dated', 'Stated year of the object', '', changes.dated, (year) =>
        apply({ ...changes, dated: year === null ? null : Math.round(year) }),
      ),
      axisForm(changes, apply),
      materialsForm(changes, apply),
      referenceForm(changes, apply),
    ),
    h(
      'ul',
      { class: 'changes', 'aria-label': 'Changes' },
      made.map(({ text, without }) =>
        h(
          'li',
          {},
          h(
            'button',
            { type: 'button', class: 'chip', 'aria-label': `Remove: ${text}`, onclick: () => apply(without) },
            `${text} ×`,
          ),
        ),
      ),
    ),
    h('p', { class: 'undo screen-only' }, button('undo', 'undo', undo), ' ', button('redo', 'redo', redo)),
    h(
      'div',
      { role: 'status', class: 'told' },
      told.map((line) => h('p', {}, line)),
    ),
  );
}

/** A symbol or a name, for a claim with its content by mass if one is named. */
function elementForm(kind: 'claim' | 'without', title: string, changes: Changes, apply: Apply): HTMLElement {
  const note = h('span', { class: 'note', role: 'status' });
  const submit = (event: Event): void => {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    const typed = textOf(form, 'symbol');
    const symbol = symbolFrom(typed);
    note.textContent = symbol ? '' : unknownElement(typed);
    if (!symbol) return;
    const content = numberOf(form, 'content');
    apply(kind === 'claim' ? claimed(changes, symbol, content) : takenOut(changes, symbol));
  };
  return h(
    'form',
    { class: 'argument', 'aria-label': title, onsubmit: submit },
    h(
      'label',
      {},
      title,
      h('input', {
        id: `argue-${kind}`,
        name: 'symbol',
        list: ELEMENT_NAMES,
        autocomplete: 'off',
        placeholder: 'Pb or lead',
      }),
    ),
    kind === 'claim'
      ? h(
          'label',
          {},
          '% by mass, if you know it',
          h('input', { name: 'content', type: 'number', step: 'any', min: 0.0001, max: 100 }),
        )
      : null,
    h('button', { type: 'submit' }, kind === 'claim' ? 'claim' : 'exclude'),
    note,
  );
}

/** @param percent by mass */
function claimed(changes: Changes, symbol: string, percent: number | null): Changes {
  const others = changes.claim.filter((one) => one.symbol !== symbol);
  return { ...changes, claim: [...others, { symbol, massFraction: percent === null ? null : percent / 100 }] };
}

export const takenOut = (changes: Changes, symbol: string): Changes => ({
  ...changes,
  without: [...changes.without.filter((other) => other !== symbol), symbol],
});

function mountForm(changes: Changes, apply: Apply): HTMLElement {
  const left = MOUNT_NAMES.filter((name) => !changes.mount.includes(name));
  const choose = (event: Event): void => {
    event.preventDefault();
    const name = textOf(event.target as HTMLFormElement, 'mount');
    if (name !== '') apply({ ...changes, mount: [...changes.mount, name] });
  };
  return h(
    'form',
    { class: 'argument', 'aria-label': 'Mounting', onsubmit: choose },
    h(
      'label',
      {},
      'Mounting',
      h(
        'select',
        { id: 'argue-mount', name: 'mount' },
        left.map((name) => h('option', { value: name }, mountText(name))),
      ),
    ),
    h('button', { type: 'submit' }, 'add'),
  );
}

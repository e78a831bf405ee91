import { type Changes, CHANGES_HINT, changesTold, MOUNT_NAMES, mountText } from '@limner/core';
import { h } from '../dom.ts';
import { ELEMENT_NAMES, elementIn } from '../element-field.ts';
import { seenForm } from './seen-form.ts';
import { materialsForm, referenceForm } from './given-forms.ts';
import { type Apply, axisForm, numberForm, numberOf, sendButton, smallForm, textOf } from './forms.ts';

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
  const act = (form: HTMLFormElement): void => {
    const symbol = elementIn(textOf(form, 'symbol'));
    apply(kind === 'claim' ? claimed(changes, symbol, numberOf(form, 'content')) : takenOut(changes, symbol));
  };
  const symbol = h('input', {
    id: `argue-${kind}`,
    name: 'symbol',
    list: ELEMENT_NAMES,
    autocomplete: 'off',
    placeholder: 'Pb or lead',
  });
  const content = h('input', { name: 'content', type: 'number', step: 'any', min: 0.0001, max: 100 });
  return smallForm(title, act, [
    h('label', {}, title, symbol),
    kind === 'claim' ? h('label', {}, '% by mass, if known', content) : null,
    sendButton(kind === 'claim' ? 'claim' : 'exclude'),
  ]);
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
  const choose = (form: HTMLFormElement): void => {
    const name = textOf(form, 'mount');
    if (name !== '') apply({ ...changes, mount: [...changes.mount, name] });
  };
  const options = left.map((name) => h('option', { value: name }, mountText(name)));
  return smallForm('Mounting', choose, [
    h('label', {}, 'Mounting', h('select', { id: 'argue-mount', name: 'mount' }, options)),
    sendButton('add'),
  ]);
}

import type { Changes } from '@limner/core';
import { h } from '../dom.ts';

export type Apply = (changes: Changes) => void;

export function textOf(form: HTMLFormElement, name: string): string {
  const text = new FormData(form).get(name);
  return typeof text === 'string' ? text.trim() : '';
}

/** Null where nothing is typed. */
export function numberOf(form: HTMLFormElement, name: string): number | null {
  const text = textOf(form, name);
  return text === '' ? null : Number(text);
}

/** One number; an empty field takes it back. */
export function numberForm(
  name: string,
  title: string,
  least: string,
  value: number | null,
  set: (value: number | null) => void,
): HTMLElement {
  return h(
    'form',
    {
      class: 'argument',
      'aria-label': title,
      onsubmit: (event) => {
        event.preventDefault();
        set(numberOf(event.target as HTMLFormElement, 'number'));
      },
    },
    h(
      'label',
      {},
      title,
      h('input', { id: `argue-${name}`, name: 'number', type: 'number', step: 'any', min: least || null, value }),
    ),
    h('button', { type: 'submit' }, 'set'),
  );
}

const field = (name: string, label: string, least: string, placeholder: string, value: number | null | undefined) =>
  h('label', {}, label, h('input', { name, type: 'number', step: 'any', min: least || null, placeholder, value }));

/** The axis of a file in channels; a file's own comes first. */
export function axisForm(changes: Changes, apply: Apply): HTMLElement {
  const { axis } = changes;
  return h(
    'form',
    {
      class: 'argument',
      'aria-label': 'Axis',
      onsubmit: (event) => {
        event.preventDefault();
        apply({ ...changes, axis: axisOf(event.target as HTMLFormElement) });
      },
    },
    field('gain', 'Axis, eV per channel', '0.01', 'as the file says', axis?.gainEv),
    field('offset', 'energy of channel 0, eV', '', '0', axis?.offsetEv),
    h('button', { type: 'submit' }, 'set'),
  );
}

function axisOf(form: HTMLFormElement): Changes['axis'] {
  const gainEv = numberOf(form, 'gain');
  return gainEv === null ? null : { gainEv, offsetEv: numberOf(form, 'offset') ?? 0 };
}

/** Asks for beam energy and axis of a file that says neither. */
export function lackingForm(changes: Changes, apply: Apply): HTMLElement {
  return h(
    'form',
    {
      class: 'given filters',
      'aria-label': 'Beam energy and axis',
      onsubmit: (event) => {
        event.preventDefault();
        const form = event.target as HTMLFormElement;
        apply({ ...changes, beamKev: numberOf(form, 'beam'), axis: axisOf(form) });
      },
    },
    field('beam', 'Beam energy, keV', '0.5', 'as the file says', changes.beamKev),
    field('gain', 'eV per channel', '0.01', 'where the file has channels only', changes.axis?.gainEv),
    field('offset', 'Energy of channel 0, eV', '', '0', changes.axis?.offsetEv),
    h('button', { type: 'submit' }, 'Read with these'),
  );
}

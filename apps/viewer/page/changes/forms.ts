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

/**
 * A small form of the page; what is wrong with what was given stands below its fields.
 * @param act what it does once it is sent @throws with what is wrong
 */
export function smallForm(
  title: string,
  act: (form: HTMLFormElement) => void | Promise<void>,
  fields: readonly (HTMLElement | null)[],
  kind = 'argument',
): HTMLElement {
  const note = h('span', { class: 'note', role: 'status' });
  const submit = async (form: HTMLFormElement): Promise<void> => {
    note.textContent = 'working …';
    try {
      await act(form);
      note.textContent = '';
    } catch (error) {
      note.textContent = error instanceof Error ? error.message : String(error);
    }
  };
  const onsubmit = (event: Event): void => {
    event.preventDefault();
    void submit(event.target as HTMLFormElement);
  };
  return h('form', { class: kind, 'aria-label': title, onsubmit }, fields, note);
}

export const sendButton = (text: string): HTMLElement => h('button', { type: 'submit' }, text);

/** One number; an empty field takes it back. */
export const numberForm = (
  name: string,
  title: string,
  least: string,
  value: number | null,
  set: (value: number | null) => void,
): HTMLElement =>
  smallForm(title, (form) => set(numberOf(form, 'number')), [
    h(
      'label',
      {},
      title,
      h('input', { id: `argue-${name}`, name: 'number', type: 'number', step: 'any', min: least || null, value }),
    ),
    sendButton('set'),
  ]);

const field = (name: string, label: string, least: string, placeholder: string, value: number | null | undefined) =>
  h('label', {}, label, h('input', { name, type: 'number', step: 'any', min: least || null, placeholder, value }));

export const beamField = ({ beamKev }: Changes): HTMLElement =>
  field('beam', 'Beam energy, keV', '0.5', 'as in the file', beamKev);

/** The axis of a file in channels; a file's own comes first. */
export const axisForm = (changes: Changes, apply: Apply): HTMLElement =>
  smallForm('Axis', (form) => apply({ ...changes, axis: axisOf(form) }), [
    field('gain', 'Axis, eV per channel', '0.01', 'as in the file', changes.axis?.gainEv),
    field('offset', 'energy of channel 0, eV', '', '0', changes.axis?.offsetEv),
    sendButton('set'),
  ]);

function axisOf(form: HTMLFormElement): Changes['axis'] {
  const gainEv = numberOf(form, 'gain');
  return gainEv === null ? null : { gainEv, offsetEv: numberOf(form, 'offset') ?? 0 };
}

/** Asks for beam energy and axis of a file that says neither. */
export const lackingForm = (changes: Changes, apply: Apply): HTMLElement =>
  smallForm(
    'Beam energy and axis',
    (form) => apply({ ...changes, beamKev: numberOf(form, 'beam'), axis: axisOf(form) }),
    [
      beamField(changes),
      field('gain', 'eV per channel', '0.01', 'as in the file', changes.axis?.gainEv),
      field('offset', 'Energy of channel 0, eV', '', '0', changes.axis?.offsetEv),
      sendButton('Read the file with these'),
    ],
    'given filters',
  );

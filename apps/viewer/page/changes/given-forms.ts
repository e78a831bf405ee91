import type { Changes } from '@limner/core';
import { h } from '../dom.ts';
import { checkMaterials, checkReference } from '../reader.ts';
import { type Apply, sendButton, smallForm, textOf } from './forms.ts';
import { keepGiven } from './given-files.ts';

/** A table of own materials, in the columns of the command's --pigments. */
export const materialsForm = (changes: Changes, apply: Apply): HTMLElement =>
  givenForm('materials', 'Your own materials (CSV)', '.csv,text/csv', null, async (file, bytes) => {
    await checkMaterials(file, bytes);
    return () => apply({ ...changes, materials: keepGiven(file, bytes) });
  });

/** A spectrum of a known material, taken with the same instrument, and what it is. */
export const referenceForm = (changes: Changes, apply: Apply): HTMLElement =>
  givenForm('reference', 'Spectrum of a known material', '', 'PbCO3', async (file, bytes, label) => {
    await checkReference(file, bytes, label);
    const others = changes.references.filter((one) => one.file !== file);
    return () => apply({ ...changes, references: [...others, { ...keepGiven(file, bytes), label }] });
  });

/**
 * A form that takes a file, and a label where it has an example for one.
 * @param take looks at the file and says what to do with it @throws with what is wrong, which the form shows
 */
function givenForm(
  name: string,
  title: string,
  accept: string,
  example: string | null,
  take: (file: string, bytes: Uint8Array, label: string) => Promise<() => void>,
): HTMLElement {
  const input = h('input', { id: `argue-${name}`, type: 'file', accept: accept || null, required: true });
  const act = async (form: HTMLFormElement): Promise<void> => {
    const file = input.files?.[0];
    if (!file) return;
    const then = await take(file.name, new Uint8Array(await file.arrayBuffer()), textOf(form, 'label'));
    then();
  };
  const label = h('input', { name: 'label', required: true, placeholder: example, pattern: '[^:]+' });
  return smallForm(title, act, [
    h('label', {}, title, input),
    example === null ? null : h('label', {}, 'What it is', label),
    sendButton('add'),
  ]);
}

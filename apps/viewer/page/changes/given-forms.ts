import type { Changes } from '@limner/core';
import { h } from '../dom.ts';
import { checkMaterials, checkReference } from '../reader.ts';
import { type Apply, textOf } from './forms.ts';
import { keepGiven } from './given-files.ts';

/** A table of own materials, in the columns of the command's --pigments. */
export const materialsForm = (changes: Changes, apply: Apply): HTMLElement =>
  givenForm('materials', 'Own materials, CSV', '.csv,text/csv', null, async (file, bytes) => {
    await checkMaterials(file, bytes);
    return () => apply({ ...changes, materials: keepGiven(file, bytes) });
  });

/** A spectrum of a known material, taken with the same instrument, and what it is. */
export const referenceForm = (changes: Changes, apply: Apply): HTMLElement =>
  givenForm('reference', 'Known material, its spectrum', '', 'PbCO3', async (file, bytes, label) => {
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
  const note = h('span', { class: 'note', role: 'status' });
  const input = h('input', { id: `argue-${name}`, type: 'file', accept: accept || null, required: true });
  const submit = async (form: HTMLFormElement): Promise<void> => {
    const file = input.files?.[0];
    if (!file) return;
    note.textContent = 'reading it …';
    try {
      const act = await take(file.name, new Uint8Array(await file.arrayBuffer()), textOf(form, 'label'));
      note.textContent = '';
      act();
    } catch (error) {
      note.textContent = error instanceof Error ? error.message : String(error);
    }
  };
  return h(
    'form',
    {
      class: 'argument',
      'aria-label': title,
      onsubmit: (event) => {
        event.preventDefault();
        void submit(event.target as HTMLFormElement);
      },
    },
    h('label', {}, title, input),
    example === null
      ? null
      : h('label', {}, 'it is', h('input', { name: 'label', required: true, placeholder: example, pattern: '[^:]+' })),
    h('button', { type: 'submit' }, 'add'),
    note,
  );
}

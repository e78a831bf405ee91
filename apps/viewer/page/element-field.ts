import { capital, elementName, symbolOf, zOf } from '@limner/core';
import { h } from './dom.ts';

const HEAVIEST = 95;
export const ELEMENT_NAMES = 'element-names';

/** What a field for an element suggests; stands once in the page, under the id ELEMENT_NAMES. */
export function elementNames(): HTMLElement {
  const options = Array.from({ length: HEAVIEST - 2 }, (_, i) => i + 3).map((z) =>
    h('option', { value: symbolOf(z) }, capital(elementName(z))),
  );
  return h('datalist', { id: ELEMENT_NAMES }, options);
}

/** The symbol of what was typed: `pb`, `Pb` or `lead`. @throws where there is no such element */
export function elementIn(typed: string): string {
  const text = typed.trim().toLowerCase();
  if (zOf(capital(text)) !== undefined) return capital(text);
  const z = Array.from({ length: HEAVIEST }, (_, i) => i + 1).find((n) => elementName(n).toLowerCase() === text);
  if (z === undefined) throw new Error(`There is no element “${typed}”. Type a symbol such as Sn, or a name.`);
  return symbolOf(z);
}

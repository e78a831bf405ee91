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

/** The symbol of what was typed: `pb`, `Pb` or `lead`. */
export function symbolFrom(typed: string): string | null {
  const text = typed.trim().toLowerCase();
  if (zOf(capital(text)) !== undefined) return capital(text);
  const z = Array.from({ length: HEAVIEST }, (_, i) => i + 1).find((n) => elementName(n).toLowerCase() === text);
  return z === undefined ? null : symbolOf(z);
}

export const unknownElement = (typed: string): string =>
  `There is no element “${typed}”. Type a symbol such as Sn, or a name.`;

import type { Row, Table } from '@limner/core';
import { h } from '../dom.ts';

/** The cells of a row by the key of their column. */
export const cellsOf = ({ columns }: Table, { cells }: Row): ReadonlyMap<string, Row['cells'][number]> =>
  new Map(columns.map(({ key }, c) => [key, cells[c]]));

/** The cells that a row's head does not show, each under its title. */
export function facts({ columns }: Table, { cells }: Row, shown: readonly string[]): HTMLElement {
  const rest = columns.map((column, c) => ({ ...column, text: cells[c].text }));
  return h(
    'dl',
    { class: 'numbers' },
    rest
      .filter(({ key, text }) => text !== '' && !shown.includes(key))
      .map(({ title, text }) => h('div', {}, h('dt', {}, title), h('dd', {}, text))),
  );
}

import { formulaParts, type Row, type Table } from '@limner/core';
import { h } from '../dom.ts';
import { cellsOf, facts } from './cells.ts';
import { tableTools } from '../table-tools.ts';
import { gridOf, type NotesOn, openNodes, type Own, partedIn, whyOf } from './nodes.ts';

const IN_HEAD = ['material', 'formula', 'fit'];

/** The materials as one block each, those that are told in full as a folded list. */
export const candidates =
  (own: Own, notesOn: NotesOn) =>
  (table: Table): HTMLElement => {
    const { id, columns, rows } = table;
    const fitTitle = columns.find(({ key }) => key === 'fit')?.title ?? '';
    const fitText = (row: Row): string => `${fitTitle} ${cellsOf(table, row).get('fit')?.text ?? ''}`;
    const block = (row: Row): HTMLElement => {
      const cells = cellsOf(table, row);
      return h(
        'li',
        { id: row.id },
        h('h3', {}, cells.get('material')?.text, formula(cells.get('formula')?.text ?? '')),
        fitBar(fitText(row), cells.get('fit')?.value ?? 0),
        facts(table, row, IN_HEAD),
        whyOf(row, own),
        notesOn({ kind: 'material', id: idOf(row) }),
      );
    };
    const line = (row: Row): HTMLElement =>
      h(
        'li',
        { id: row.id },
        h('b', {}, cellsOf(table, row).get('material')?.text),
        ` (${fitText(row)})`,
        openNodes(row.detail, own),
        notesOn({ kind: 'material', id: idOf(row) }),
      );
    return h(
      'div',
      { id },
      partedIn(
        id,
        rows,
        (some) => h('ol', { class: 'allowed' }, some.map(block)),
        (some) => h('ul', { class: 'lines' }, some.map(line)),
      ),
      tableTools(table.caption, () => gridOf(table)),
    );
  };

/** A row is `material-` and the id. */
const idOf = ({ id }: Row): string => id.replace(/^material-/, '');

const fitBar = (text: string, score: number): HTMLElement =>
  h(
    'p',
    { class: 'fit' },
    text,
    h('span', { class: 'bar', 'aria-hidden': 'true' }, h('span', { style: `width:${100 * score}%` })),
  );

/** A formula with its numbers set low. */
function formula(text: string): HTMLElement | null {
  if (text === '') return null;
  return h(
    'span',
    { class: 'formula' },
    ' ',
    formulaParts(text).map((part, i) => (i % 2 ? h('sub', {}, part) : part)),
  );
}

import type { Figure, LimnerRecord, Row, Table, Verdict } from '@limner/core';
import { h } from '../dom.ts';
import { layerColour, type LayerLook } from '../palette.ts';
import { cellsOf, facts } from './cells.ts';
import { tableTools } from '../table-tools.ts';
import { gridOf, type NotesOn, type Own, whyOf } from './nodes.ts';

/** The mark beside each verdict's word, told apart by shape. */
const MARKS: Readonly<Record<Verdict, string>> = { present: '●', open: '◐', 'not-seen': '○', blind: '–' };
const IN_HEAD = ['symbol', 'name', 'verdict'];

/** What a person can do with an element of the reading. */
export interface ClaimActions {
  readonly mark: (symbol: string) => Promise<void>;
  /** Draws the fit without it, and with its rival, over the spectrum. */
  readonly compare: (symbol: string) => Promise<void>;
  readonly takeOut: (symbol: string) => void;
}

/** The elements as one block each: name and verdict, figures, pictures of its lines, and why. @param act null: nothing can be done with them */
export function claims(
  record: LimnerRecord,
  looks: ReadonlyMap<string, LayerLook>,
  act: ClaimActions | null,
  own: Own,
  notesOn: NotesOn,
): (table: Table) => HTMLElement {
  const verdicts = new Map(record.elements.map(({ symbol, verdict }) => [symbol, verdict]));
  return (table) => {
    const block = (row: Row): HTMLElement => {
      const cells = cellsOf(table, row);
      const text = (key: string): string => cells.get(key)?.text ?? '';
      const symbol = text('symbol');
      const verdict = verdicts.get(symbol) ?? 'open';
      const titleId = `${row.id}-title`;
      return h(
        'article',
        { id: row.id, class: `claim ${verdict}`, 'aria-labelledby': titleId },
        h(
          'header',
          {},
          h(
            'h3',
            { id: titleId },
            text('name'),
            ' ',
            h('span', { class: 'symbol', style: `border-color:${layerColour(looks.get(symbol))}` }, symbol),
          ),
          h('p', { class: 'verdict' }, h('span', { 'aria-hidden': 'true' }, MARKS[verdict]), ` ${text('verdict')}`),
          act && [
            quiet('mark its lines', () => void act.mark(symbol)),
            ' ',
            quiet('show the fit without it', () => void act.compare(symbol)),
            ' ',
            quiet('exclude it', () => act.takeOut(symbol)),
          ],
        ),
        facts(table, row, IN_HEAD),
        row.detail.filter((node): node is Figure => node.kind === 'figure').map(own.figure),
        whyOf(row, own),
        notesOn({ kind: 'element', id: symbol }),
      );
    };
    const tools = tableTools(table.caption, () => gridOf(table));
    return h('div', { id: table.id }, table.rows.map(block), tools);
  };
}

const quiet = (text: string, act: () => void): HTMLElement =>
  h('button', { type: 'button', class: 'quiet', onclick: act }, text);

import {
  type Figure,
  type Fold,
  folded,
  type Item,
  type Length,
  type List,
  type Node,
  type Paragraph,
  parted,
  type Row,
  type Section,
  type Table,
  WHY,
} from '@limner/core';
import { h } from '../dom.ts';
import { type Grid, tableTools } from '../table-tools.ts';
import type { Thing } from '../notes/notes.ts';

/** Parts of a tree that the page draws in its own way. */
export interface Own {
  /** Null where there is nothing to draw. */
  readonly figure: (figure: Figure) => HTMLElement | null;
  /** By the id of the table; all others are plain tables. */
  readonly tables: Readonly<Record<string, (table: Table) => HTMLElement>>;
}

/** The notes on an element or a material; null where none can be kept. */
export type NotesOn = (thing: Thing) => HTMLElement | null;

/** Folds that stay folded on paper: pages of materials that nobody asked for, and a header that is in the file. */
const NOT_ON_PAPER = new Set(['ruled-out', 'material-table', 'header-table']);

interface Place {
  readonly own: Own;
  /** Level of the headings here. */
  readonly level: 2 | 3 | 4;
  /** Inside a fold all stands open. */
  readonly length: Length;
}

/** The nodes of a tree as elements: what is brief stands open, the rest is folded. Each keeps its id. */
export const treeNodes = (nodes: readonly Node[], own: Own): Child[] =>
  nodesIn(nodes, { own, level: 2, length: 'brief' });

/** All of them, open, for what stands inside a row. */
export const openNodes = (nodes: readonly Node[], own: Own): Child[] =>
  nodesIn(nodes, { own, level: 4, length: 'full' });

type Child = HTMLElement | null;

const nodesIn = (nodes: readonly Node[], place: Place): Child[] =>
  (place.length === 'brief' ? folded(nodes) : nodes).map((node) => nodeIn(node, place));

function nodeIn(node: Node | Fold, place: Place): Child {
  switch (node.kind) {
    case 'fold':
      return foldIn(node, place);
    case 'section':
      return sectionIn(node, place);
    case 'paragraph':
      return paragraphOf(node);
    case 'list':
      return listIn(node, place);
    case 'table':
      return (place.own.tables[node.id] ?? ((table: Table) => tableIn(table, place)))(node);
    case 'figure':
      return place.own.figure(node);
  }
}

const CLASSES = { lead: 'summary', note: 'lead-in', plain: null } as const;

const paragraphOf = ({ id, tone, text }: Paragraph): HTMLElement => h('p', { id, class: CLASSES[tone] }, text);

const heading = (level: Place['level'], id: string, title: string): HTMLElement => h(`h${level}`, { id }, title);

const below = ({ own, level, length }: Place): Place => ({ own, level: level === 2 ? 3 : 4, length });

function sectionIn({ id, title, nodes }: Section, place: Place): HTMLElement {
  const titleId = `${id}-title`;
  return h(
    'section',
    { id, 'aria-labelledby': titleId },
    heading(place.level, titleId, title),
    nodesIn(nodes, below(place)),
  );
}

function foldIn({ id, title, nodes }: Fold, place: Place): HTMLElement {
  const inside = nodesIn(nodes, { ...below(place), length: 'full' });
  const line = place.level === 2 ? heading(2, `${id}-title`, title) : title;
  return fold(id, line, inside, place.level === 2 ? 'folded chapter' : 'folded');
}

/** Something folded under a line; it opens on paper unless it is long. */
export function fold(id: string, line: HTMLElement | string, inside: readonly Child[], kind = 'folded'): HTMLElement {
  const onPaper = !NOT_ON_PAPER.has(id.replace(/-(fold|rest)$/, ''));
  return h('details', { id, class: kind, 'data-paper': onPaper }, h('summary', {}, line), inside);
}

/** What is brief as `open` makes it, the rest folded below. */
export function partedIn<Kind extends { readonly length: Length }>(
  id: string,
  all: readonly Kind[],
  open: (some: readonly Kind[]) => HTMLElement,
  rest: (some: readonly Kind[]) => HTMLElement = open,
): HTMLElement[] {
  const { open: first, folded: others, title } = parted(all);
  return [
    ...(first.length > 0 ? [open(first)] : []),
    ...(others.length > 0 ? [fold(`${id}-rest`, title, [rest(others)])] : []),
  ];
}

function listIn({ id, layout, items }: List, { length }: Place): HTMLElement {
  const line = ({ id: itemId, head, text }: Item) =>
    h('li', { id: itemId }, head ? h('b', {}, head) : null, head && text ? ' ' : null, text);
  const ul = (some: readonly Item[]) => h('ul', { class: layout }, some.map(line));
  return h('div', { id }, length === 'full' ? ul(items) : partedIn(id, items, ul));
}

/** A table that scrolls by itself where the page is narrow. */
function tableIn(table: Table, place: Place): HTMLElement {
  const { id, caption, columns, rows } = table;
  const kept = columns.map((_, c) => c).filter((c) => rows.some(({ cells }) => cells[c].text !== ''));
  const kind = (c: number) => (columns[c].align === 'right' ? 'number' : null);
  const titled = kept.some((c) => columns[c].title !== '');
  const head = h(
    'thead',
    {},
    h(
      'tr',
      {},
      kept.map((c) => h(columns[c].title ? 'th' : 'td', { scope: 'col', class: kind(c) }, columns[c].title)),
    ),
  );
  const cellsOf = ({ cells }: Row) =>
    kept.map((c, k) =>
      k === 0 ? h('th', { scope: 'row', class: kind(c) }, cells[c].text) : h('td', { class: kind(c) }, cells[c].text),
    );
  const why = (row: Row) =>
    row.detail.length > 0 ? h('tr', {}, h('td', { colspan: kept.length }, whyOf(row, place.own))) : null;
  const grid = (some: readonly Row[]) =>
    h(
      'div',
      { class: 'scroll', tabindex: 0, role: 'group', 'aria-label': caption },
      h(
        'table',
        {},
        titled ? head.cloneNode(true) : null,
        h(
          'tbody',
          {},
          some.flatMap((row) => [h('tr', { id: row.id }, cellsOf(row)), why(row)]),
        ),
      ),
    );
  const tools = tableTools(caption, () => gridOf(table));
  return h('div', { id }, place.length === 'full' ? grid(rows) : partedIn(id, rows, grid), tools);
}

/** A table as text, all of it. */
export const gridOf = ({ columns, rows }: Table): Grid => [
  columns.map(({ title }) => title),
  ...rows.map(({ cells }) => cells.map(({ text }) => text)),
];

/** What a row unfolds to; pictures are drawn beside the row. */
export function whyOf({ id, detail }: Row, own: Own): HTMLElement | null {
  const words = detail.filter(({ kind }) => kind !== 'figure');
  return words.length > 0 ? fold(`${id}-why`, WHY, openNodes(words, own), 'folded why') : null;
}

import { gridOf } from './grid.ts';
import { printable, TEXT_WIDTH, wrap } from './layout.ts';
import { isTold, type Item, type Length, type List, type Node, type Table, type Tree } from './sections/tree.ts';

export interface TextOptions {
  /** Characters per line; 100 if left out, never taken as fewer than 40. */
  readonly width?: number;
  /** How much to tell; 'brief' if left out. */
  readonly length?: Length;
}

const LEAST_WIDTH = 40;
const STEP = 2;

/** A tree as plain text, folded to a width, ending with a line break. Nothing in it can steer a terminal. */
export function treeText({ title, nodes }: Tree, { width = TEXT_WIDTH, length = 'brief' }: TextOptions = {}): string {
  const page = { width: Math.max(LEAST_WIDTH, width), length };
  const blocks = nodes.filter((node) => isTold(node, length)).map((node) => nodeLines(node, page, 0));
  const head = title === '' ? [] : [wrap(printable(title), 0, STEP, page.width)];
  return `${[...head, ...blocks]
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join('\n'))
    .join('\n\n')}\n`;
}

interface Page {
  readonly width: number;
  readonly length: Length;
}

function nodeLines(node: Node, page: Page, indent: number): string[] {
  switch (node.kind) {
    case 'paragraph':
      return wrap(printable(node.text), indent, 0, page.width);
    case 'list':
      return listLines(node, page, indent);
    case 'table':
      return tableLines(node, page, indent);
    case 'figure':
      return [];
    case 'section': {
      const held = nodesLines(node.nodes, page, indent + STEP);
      return held.length === 0 ? [] : [...wrap(printable(node.title), indent, STEP, page.width), ...held];
    }
  }
}

const nodesLines = (nodes: readonly Node[], page: Page, indent: number): string[] =>
  nodes.filter((node) => isTold(node, page.length)).flatMap((node) => nodeLines(node, page, indent));

function listLines({ items, layout }: List, { width, length }: Page, indent: number): string[] {
  const told = items.filter((item) => isTold(item, length)).map(itemText);
  if (layout === 'run-in') return wrap(told.map((text) => text.replaceAll(' ', '\u00a0')).join(', '), indent, 0, width);
  return told.flatMap((text) => wrap(`- ${text}`, indent, STEP, width));
}

const itemText = ({ head, text }: Item): string => printable([head, text].filter(Boolean).join(' '));

/** What a row unfolds to stands below it, two steps in. */
function tableLines(table: Table, page: Page, indent: number): string[] {
  const { heading, rows } = gridOf(safe(table), page.length, indent, page.width);
  return [
    ...heading,
    ...rows.flatMap(({ row, lines }) => [...lines, ...nodesLines(row.detail, page, indent + 2 * STEP)]),
  ];
}

/** Cells that cannot steer a terminal. */
const safe = (table: Table): Table => ({
  ...table,
  rows: table.rows.map((row) => ({
    ...row,
    cells: row.cells.map(({ text, value }) => ({ text: printable(text), value })),
  })),
});

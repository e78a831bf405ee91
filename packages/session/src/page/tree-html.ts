import {
  type Figure,
  type Fold,
  folded,
  formulaParts,
  type Item,
  type Length,
  type List,
  type Node,
  parted,
  type Row,
  type Table,
  WHY,
} from '@limner/core';
import { escape } from './report-parts.ts';

export const TREE_STYLE = `
.lead { font-size: 1.1rem; }
details { margin: 0.4rem 0; }
summary { cursor: pointer; color: #35507a; }
ul.run-in { padding: 0; list-style: none; columns: 9rem; font-size: 0.9rem; }
tr.why > td { padding-top: 0; }
tr.why p { margin: 0.2rem 0; }
.number + :not(.number) { padding-left: 0.8rem; }
tr:has(+ tr.why) > * { border-bottom: 0; }
th[scope=row] { font-weight: normal; }
td.line { white-space: nowrap; }
sub { font-size: 0.75em; line-height: 0; }
`.trim();

/** How a tree becomes HTML. */
interface Layout {
  /** Of its headings; 3 if left out. */
  readonly level: number;
  /** Where the name of a row leads, by the row's id; nowhere if left out. */
  readonly hrefOf: (rowId: string) => string | undefined;
  /** A figure as HTML; left out if left out. */
  readonly drawn: (figure: Figure) => string;
}

interface Place extends Layout {
  /** What goes before the ids of a tree: they are unique in it, but a report holds many. */
  readonly prefix: string;
  /** Inside a fold all stands open. */
  readonly length: Length;
}

const PLAIN: Layout = { level: 3, hrefOf: () => undefined, drawn: () => '' };

/** The nodes of a tree as HTML: what is brief stands open, the rest is folded. */
export const treeHtml = (nodes: readonly (Node | null)[], prefix: string, layout: Partial<Layout> = {}): string =>
  nodesHtml(
    nodes.filter((node) => node !== null),
    { ...PLAIN, ...layout, prefix, length: 'brief' },
  );

const nodesHtml = (nodes: readonly Node[], place: Place): string =>
  (place.length === 'brief' ? folded(nodes) : nodes)
    .map((node) => nodeHtml(node, place))
    .filter((html) => html !== '')
    .join('\n');

function nodeHtml(node: Node | Fold, place: Place): string {
  const id = idIn(place, node.id);
  const below = { ...place, level: place.level + 1 };
  switch (node.kind) {
    case 'fold':
      return foldHtml(id, node.title, nodesHtml(node.nodes, { ...below, length: 'full' }));
    case 'section':
      return `<div${id}><h${place.level}>${escape(node.title)}</h${place.level}>${nodesHtml(node.nodes, below)}</div>`;
    case 'paragraph':
      return `<p${id}${CLASSES[node.tone]}>${escape(node.text)}</p>`;
    case 'list':
      return listHtml(node, place);
    case 'table':
      return tableHtml(node, place);
    case 'figure':
      return place.drawn(node);
  }
}

const CLASSES = { lead: ' class="lead"', note: ' class="quiet"', plain: '' } as const;

const idIn = ({ prefix }: Place, id: string): string => ` id="${escape(`${prefix}-${id}`)}"`;

const foldHtml = (id: string, title: string, inside: string): string =>
  inside === '' ? '' : `<details${id}><summary>${escape(title)}</summary>${inside}</details>`;

/** What is brief stands open, the rest is folded below. */
function partedHtml<Kind extends { readonly length: Length }>(
  all: readonly Kind[],
  place: Place,
  html: (some: readonly Kind[], place: Place) => string,
): string {
  if (place.length === 'full') return html(all, place);
  const { open, folded: rest, title } = parted(all);
  const inFold = rest.length > 0 ? html(rest, { ...place, length: 'full' }) : '';
  return (open.length > 0 ? html(open, place) : '') + foldHtml('', title, inFold);
}

function listHtml({ id, layout, items }: List, place: Place): string {
  const line = ({ id: itemId, head, text }: Item): string => {
    const words = [head && `<b>${escape(head)}</b>`, escape(text)].filter(Boolean).join(' ');
    return `<li${idIn(place, itemId)}>${words}</li>`;
  };
  const ul = (some: readonly Item[]): string => `<ul class="${layout}">${some.map(line).join('')}</ul>`;
  return `<div${idIn(place, id)}>${partedHtml(items, place, ul)}</div>`;
}

function tableHtml({ id, caption, columns, rows }: Table, place: Place): string {
  const kept = columns
    .map((column, c) => ({ ...column, c }))
    .filter(({ c }) => rows.some(({ cells }) => cells.at(c)?.text));
  const kind = ({ align, key }: Table['columns'][number]): string => {
    if (align === 'right') return ' class="number"';
    return key === 'line' ? ' class="line"' : '';
  };
  const head = kept.some(({ title }) => title !== '')
    ? `<thead><tr>${kept.map((column) => `<th scope="col"${kind(column)}>${escape(column.title)}</th>`).join('')}</tr></thead>`
    : '';
  const rowHtml = (row: Row, here: Place): string => {
    const cells = kept.map((column, k) => {
      const text = row.cells.at(column.c)?.text ?? '';
      const told = column.key === 'formula' ? formulaHtml(text) : escape(text);
      return k === 0
        ? `<th scope="row"${kind(column)}>${linked(told, here.hrefOf(row.id))}</th>`
        : `<td${kind(column)}>${told}</td>`;
    });
    return `<tr${idIn(place, row.id)}>${cells.join('')}</tr>${whyHtml(row, kept.length, here)}`;
  };
  const grid = (some: readonly Row[], here: Place): string =>
    `<div class="wide"><table aria-label="${escape(caption)}">${head}<tbody>${some.map((row) => rowHtml(row, here)).join('\n')}</tbody></table></div>`;
  return `<div${idIn(place, id)}>${partedHtml(rows, place, grid)}</div>`;
}

const formulaHtml = (text: string): string =>
  formulaParts(text)
    .map((part, i) => (i % 2 ? `<sub>${escape(part)}</sub>` : escape(part)))
    .join('');

const linked = (html: string, href: string | undefined): string =>
  href === undefined ? html : `<a href="${escape(href)}">${html}</a>`;

/** What a row unfolds to, in a row of its own; inside a fold it stands open. */
function whyHtml({ detail }: Row, columns: number, place: Place): string {
  const inside = nodesHtml(detail, { ...place, length: 'full', level: place.level + 1 });
  const told = place.length === 'full' ? inside : foldHtml('', WHY, inside);
  return inside === '' ? '' : `<tr class="why"><td colspan="${columns}">${told}</td></tr>`;
}

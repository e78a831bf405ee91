import { describe, expect, it } from 'vitest';
import { finding, invented } from '../../../../tests/fixtures/record.ts';
import type { LimnerRecord } from '../record/record.ts';
import { readingTree } from './reading.ts';
import type { Node, Row } from './sections/tree.ts';

/** Everything in a tree that has an id. */
function* all(nodes: readonly Node[]): Generator<{ readonly id: string; readonly length: string }> {
  for (const node of nodes) {
    yield node;
    if (node.kind === 'section') yield* all(node.nodes);
    if (node.kind === 'list') yield* node.items;
    if (node.kind === 'table') {
      for (const row of node.rows) {
        yield row;
        yield* all(row.detail);
      }
    }
  }
}

const held = (node: Node): readonly { readonly length: string }[] =>
  node.kind === 'section' ? node.nodes : node.kind === 'list' ? node.items : node.kind === 'table' ? node.rows : [];

const RECORDS: readonly (readonly [string, LimnerRecord])[] = [
  ['usual', invented({ ledger: [{ part: 'artefact', name: 'sum peaks', counts: 3 }] })],
  ['empty', invented({ elements: [], pigments: [], peaks: [], ledger: [], header: [], cautions: [] })],
  ['open', invented({ elements: [finding('N', 7, 100, { verdict: 'open' })] })],
];

describe.each(RECORDS)('the tree of a record: %s', (_, record) => {
  const { nodes } = readingTree(record);

  it('has no id twice', () => {
    const ids = [...all(nodes)].map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const id of ids) expect(id).toMatch(/^\S+$/);
  });

  it('is brief only where it holds something brief', () => {
    const check = (node: Node): void => {
      const inside = held(node);
      if (inside.length > 0 && node.length === 'brief')
        expect(inside.some(({ length }) => length === 'brief')).toBe(true);
      if (node.kind === 'section') node.nodes.forEach(check);
    };
    nodes.forEach(check);
  });

  it('is plain data, a cell for every column', () => {
    expect(JSON.parse(JSON.stringify(nodes))).toEqual(nodes);
    const check = (node: Node): void => {
      if (node.kind === 'section') node.nodes.forEach(check);
      if (node.kind !== 'table') return;
      for (const { cells, detail } of node.rows) {
        expect(cells).toHaveLength(node.columns.length);
        detail.forEach(check);
      }
    };
    nodes.forEach(check);
  });
});

it('gives figures their place: the spectrum, and the lines of each element in its row', () => {
  const { nodes } = readingTree(invented());
  expect(nodes.find(({ id }) => id === 'spectrum')).toMatchObject({ kind: 'figure', figure: 'spectrum' });
  const rows: Row[] = [];
  for (const node of nodes)
    if (node.kind === 'section' && node.id === 'elements')
      for (const inner of node.nodes) if (inner.kind === 'table') rows.push(...inner.rows);
  expect(rows.map(({ id }) => id)).toEqual(['element-Pb', 'element-Sn', 'element-O', 'element-Sb']);
  expect(rows[1].detail).toContainEqual(
    expect.objectContaining({ kind: 'figure', figure: 'element-lines', of: ['Sn'] }),
  );
});

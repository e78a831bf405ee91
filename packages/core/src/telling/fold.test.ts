import { describe, expect, it } from 'vitest';
import { invented } from '../../../../tests/fixtures/record.ts';
import { folded, parted } from './fold.ts';
import { readingTree } from './reading.ts';
import { item, paragraph, section, table, column, cell, row } from './sections/tree.ts';

describe('folding', () => {
  const brief = paragraph('a', 'A.')!;
  const note = paragraph('b', 'B.', 'full', 'note')!;
  const long = section('c', 'All of C', [paragraph('d', 'D.', 'full')])!;
  const grid = table('t', 'The grid', [column('x', 'x')], [row('r', [cell('1')], 'full')])!;

  it('leaves what is brief open, folds a section by itself and other neighbours together', () => {
    const out = folded([brief, note, grid, long, note]);
    expect(out.map(({ kind, id }) => `${kind} ${id}`)).toEqual(['paragraph a', 'fold b-fold', 'fold c', 'fold b-fold']);
    expect(out.flatMap((one) => (one.kind === 'fold' ? one.title : []))).toEqual([
      'The grid',
      'All of C',
      'How to read it',
    ]);
  });

  it('loses nothing of a reading', () => {
    const { nodes } = readingTree(invented());
    const ids = folded(nodes).map(({ id }) => id);
    expect(ids).toEqual(nodes.map(({ id }) => id));
  });

  it('parts items, and counts what it folds', () => {
    const { open, folded: rest, title } = parted([item('a', 'A'), item('b', 'B', 'full'), item('c', 'C', 'full')]);
    expect([open.length, rest.length]).toEqual([1, 2]);
    expect(title.replaceAll('\u00a0', ' ')).toBe('2 more');
  });
});

import { describe, expect, it } from 'vitest';
import { gridOf } from './grid.ts';
import { cell, column, row, spareColumn, table } from './sections/tree.ts';

const COLUMNS = [
  column('name', 'name'),
  column('share', 'share', 'right'),
  column('empty', 'empty'),
  spareColumn('words', 'in words'),
  spareColumn('more', 'more', 'right', 'full'),
];
const line = (name: string, share: string, words: string, length: 'brief' | 'full' = 'brief') =>
  row(name, [cell(name), cell(share), cell(''), cell(words), cell('7')], length);
const TABLE = table('t', 'A table', COLUMNS, [
  line('lead', '61 %', 'most of it by far'),
  line('tin', '8 %', 'a part', 'full'),
])!;

const lines = (width: number, length: 'brief' | 'full'): string[] => {
  const { heading, rows } = gridOf(TABLE, length, 1, width);
  return [...heading, ...rows.flatMap((one) => one.lines)];
};

describe('a table as text', () => {
  it('lines columns up, and leaves out those without text and rows that are not told', () => {
    expect(lines(60, 'brief')).toEqual([' name  share  in words', ' lead   61 %  most of it by far']);
    expect(lines(60, 'full')).toEqual([
      ' name  share  in words           more',
      ' lead   61 %  most of it by far     7',
      ' tin     8 %  a part                7',
    ]);
  });

  it('folds words where there is no room', () => {
    expect(lines(26, 'brief')).toEqual([' name  share  in words', ' lead   61 %  most of it', '              by far']);
  });

  it('leaves spare columns out where folding is not enough', () => {
    expect(lines(18, 'full')).toEqual([' name  share', ' lead   61 %', ' tin     8 %']);
  });

  it('becomes a run of words where no column is spare', () => {
    expect(lines(10, 'full')).toEqual([' lead;', '   share', '   61 %', ' tin;', '   share 8', '   %']);
  });
});

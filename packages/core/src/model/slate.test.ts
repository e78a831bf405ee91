import { expect, it } from 'vitest';
import { columnFrom, columnOf, countsWithin, spreadOut, valueAt } from './column.ts';
import { lifted, slate } from './slate.ts';

it('a column holds its band alone and knows its stretches', () => {
  const counts = new Float64Array(100);
  counts.set([1, 2], 10);
  counts.set([3], 40);
  counts.set([4], 56);
  const column = columnOf(counts);
  // Channels 40 and 56 lie as near as one stretch allows; 10 to 40 is a gap.
  expect([...column.runs]).toEqual([10, 12, 40, 57]);
  expect([column.lo, column.hi, column.values.length]).toEqual([10, 57, 47]);
  expect(spreadOut(column, 100)).toEqual(counts);
  expect([valueAt(column, 9), valueAt(column, 11), valueAt(column, 99)]).toEqual([0, 2, 0]);
  expect(countsWithin(column, { lo: 11, hi: 50 })).toBe(5);
  expect(columnFrom(Float64Array.of(0, 5, 0), 7)).toMatchObject({ lo: 8, hi: 9 });
  expect(columnOf(new Float64Array(5)).runs).toHaveLength(0);
});

it('a slate is blank again once its shape is lifted, whatever stood on it', () => {
  const one = slate(30);
  one.set([1, NaN, 3], 4);
  expect([...lifted(one).values]).toEqual([1, NaN, 3]);
  expect(slate(30).every((value) => value === 0)).toBe(true);
  expect(slate(20)).toHaveLength(20);
});

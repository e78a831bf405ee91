import { describe, expect, it } from 'vitest';
import { columnOf } from '../model/column.ts';
import { inflationUnder, type ChannelMisfit } from './quality.ts';

const N = 120;
const column = columnOf(Float64Array.from({ length: N }, (_, i) => (i >= 10 && i < 110 ? 1 : 0)));
const expected = new Float64Array(N).fill(100);
const scene = { counts: expected, range: { lo: 0, hi: N, behindHump: false } } as Parameters<typeof inflationUnder>[3];
/** A misfit so many times what counting leaves, in the channels given; as counting leaves it elsewhere. */
const misfit = (times: number, from = 0, to = N): ChannelMisfit => ({
  c: Float64Array.from({ length: N }, (_, i) => (i >= from && i < to ? times : 1)),
  mean: new Float64Array(N).fill(1),
  variance: new Float64Array(N).fill(2),
});
const inflation = (channels: ChannelMisfit): number => inflationUnder(column, channels, expected, scene);

describe('the standard deviation of an amount where the model misfits', () => {
  it('grows by the root of the misfit under its lines, less two standard deviations of chance', () => {
    // 100 channels of variance 2: chance may add 2 sqrt(200) to the 100 that are expected.
    for (const times of [2, 4, 25])
      expect(inflation(misfit(times))).toBeCloseTo(Math.sqrt(times - (2 * Math.sqrt(200)) / 100), 9);
  });

  it('stays as it is where chance alone may have done it, and never falls', () => {
    expect(inflation(misfit(1))).toBe(1);
    expect(inflation(misfit(1.28))).toBe(1);
    expect(inflation(misfit(1.29))).toBeGreaterThan(1);
    expect(inflation(misfit(0.2))).toBe(1);
  });

  it('feels nothing of a misfit elsewhere', () => {
    expect(inflation(misfit(50, 110, N))).toBe(1);
    expect(inflation(misfit(50, 0, 10))).toBe(1);
  });
});

import { describe, expect, it } from 'vitest';
import { laidCounts } from './laid-counts.ts';

const fine = { offsetEv: 5, gainEv: 10 };
const laid = (counts: readonly number[], onto: typeof fine, n: number): number[] => [
  ...laidCounts(Float64Array.from(counts), fine, onto, n).map((value) => Number(value.toFixed(12))),
];

describe('counts laid onto another axis', () => {
  it('stay where they are on their own', () => {
    expect(laid([3, 1, 4, 1], fine, 4)).toEqual([3, 1, 4, 1]);
  });

  it('add up in channels that are wider', () => {
    // Channels from 0 to 20 and from 20 to 40 eV.
    expect(laid([3, 1, 4, 1], { offsetEv: 10, gainEv: 20 }, 2)).toEqual([4, 5]);
  });

  it('are shared by overlap where an edge cuts through a channel', () => {
    // Channels from 0 to 25 and from 25 to 50 eV: half of the third one's counts lie on either side.
    expect(laid([3, 1, 4, 1], { offsetEv: 12.5, gainEv: 25 }, 2)).toEqual([6, 3]);
    // Into channels of 4 eV from 0 to 8 eV, by the part of its width.
    expect(laid([10], { offsetEv: 2, gainEv: 4 }, 3)).toEqual([4, 4, 2]);
  });

  it('are left out where the other axis does not reach', () => {
    expect(laid([3, 1, 4, 1], { offsetEv: 25, gainEv: 10 }, 1)).toEqual([4]);
    expect(laid([3, 1, 4, 1], { offsetEv: 100, gainEv: 10 }, 2)).toEqual([0, 0]);
  });
});

import { describe, expect, it } from 'vitest';
import { isBeaten, isFarOff, takesTurns } from './giving-up.ts';
import { chiSquareUnder, isHopeless, type Frame, type Round } from './state.ts';

const N = 80;
const EXPECTED = 100;
/** A range that begins above the first channel: what lies before it counts for nothing. */
const range = { lo: 10, hi: 60, behindHump: false };
const round = { model: new Float64Array(N).fill(EXPECTED), merit: 1000 } as unknown as Round;
/** Counts that lie so much chi-square per channel from the model, in the range. */
const frameAt = (perChannel: number): Frame => {
  const counts = new Float64Array(N).fill(1e6);
  counts.fill(EXPECTED + Math.sqrt(perChannel * EXPECTED), range.lo, range.hi);
  return { counts, range } as unknown as Frame;
};

describe('counts that look like no spectrum on this axis', () => {
  it.each([
    [1, 20],
    [2, 2],
    [7, 2],
  ])('are told after round %d, by more than %d per channel', (rounds, most) => {
    expect(isFarOff(frameAt(0.99 * most), round, 0, rounds)).toBe(false);
    expect(isFarOff(frameAt(1.01 * most), round, 0, rounds)).toBe(true);
  });

  it('are no more than that at the limit itself', () => {
    // 20 counts more than 20, and 10 more than 50: exactly 20 and 2.
    const at = (expected: number, more: number, rounds: number): boolean =>
      isFarOff(
        { range, counts: new Float64Array(N).fill(expected + more) } as unknown as Frame,
        { ...round, model: new Float64Array(N).fill(expected) },
        0,
        rounds,
      );
    expect([at(20, 20, 1), at(20, 21, 1), at(50, 10, 2), at(50, 11, 2)]).toEqual([false, true, false, true]);
  });

  it('are judged by what the model is granted', () => {
    const frame = frameAt(4);
    expect(chiSquareUnder(frame, round, 0) / 50).toBeCloseTo(4, 9);
    // A tenth of 100 counts, squared, is as much as counting itself.
    expect(chiSquareUnder(frame, round, 0.1) / 50).toBeCloseTo(2, 9);
    // Less than one count is not expected: noise would weigh without bound.
    const nothing = { ...round, model: new Float64Array(N).fill(0.01) };
    const one = { ...frame, counts: new Float64Array(N).fill(3) };
    expect(chiSquareUnder(one, nothing, 0) / 50).toBeCloseTo(4, 9);
  });

  it('are hopeless from twelve times what counting leaves in each channel', () => {
    expect(isHopeless(frameAt(0), { ...round, c: 12 * 50 })).toBe(false);
    expect(isHopeless(frameAt(0), { ...round, c: 12 * 50 + 1 })).toBe(true);
  });
});

describe('an explanation that another one beats', () => {
  it('is given up where it is more than 20 behind, and never where there is none', () => {
    const frame = frameAt(1);
    expect(isBeaten({ ...frame, toBeat: 979 }, round)).toBe(true);
    expect(isBeaten({ ...frame, toBeat: 980 }, round)).toBe(false);
    expect(isBeaten(frame, round)).toBe(false);
  });
});

describe('sets that take turns', () => {
  it('are told once two have followed each other twice, the last time after the annealing', () => {
    expect(takesTurns(['x', 'a', 'b', 'a', 'b'], 2)).toBe(true);
    expect(takesTurns(['a', 'b', 'a', 'b'], 2)).toBe(false);
    expect(takesTurns(['a', 'b', 'a', 'b'], 1)).toBe(true);
  });

  it('are none where one set stays, or a third comes in', () => {
    for (const last of ['aaaa', 'abac', 'cbab', 'abbb', 'aaba'])
      expect([last, takesTurns(['x', 'y', ...last], 2)]).toEqual([last, false]);
  });
});

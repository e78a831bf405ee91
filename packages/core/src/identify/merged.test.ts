import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { MERGED_EV, mergedAxis, mergedFrame, mergingOf, partedAxis, partedStart } from './merged.ts';
import type { RoundStart } from './round.ts';
import type { Frame } from './state.ts';

describe('merged channels', () => {
  it('are no wider than asked for, and single ones where they are wide already', () => {
    expect(mergingOf({ offsetEv: 0, gainEv: 10 }, 21)).toBe(2);
    expect(mergingOf({ offsetEv: 0, gainEv: 2.5 }, 21)).toBe(8);
    expect(mergingOf({ offsetEv: 0, gainEv: 25 }, 21)).toBe(1);
  });

  it('lie in the middle of their single ones, and their axis leads back', () => {
    const axis = { offsetEv: -12, gainEv: 5 };
    const merged = mergedAxis(axis, 4);
    // Channels 8 to 11 make the third one.
    expect(merged.offsetEv + 2 * merged.gainEv).toBeCloseTo(-12 + 5 * 9.5, 12);
    expect(partedAxis(merged, 4).gainEv).toBeCloseTo(5, 12);
    expect(partedAxis(merged, 4).offsetEv).toBeCloseTo(-12, 12);
  });

  it('hold the counts of theirs, those wholly inside the range', () => {
    const counts = Float64Array.from({ length: 14 }, (_, i) => i);
    const frame = { counts, range: { lo: 3, hi: 12, behindHump: true } } as unknown as Frame;
    const merged = mergedFrame(frame, 4);
    expect([...merged.counts]).toEqual([0 + 1 + 2 + 3, 4 + 5 + 6 + 7, 8 + 9 + 10 + 11]);
    expect(merged.range).toEqual({ lo: 1, hi: 3, behindHump: true });
    expect(mergedFrame({ ...frame, range: { ...frame.range, lo: 4, hi: 11 } }, 4).range).toMatchObject({
      lo: 1,
      hi: 2,
    });
    expect(mergedFrame(frame, 1)).toBe(frame);
    expect(MERGED_EV).toBe(31);
  });
});

describe('a start for single channels', () => {
  const by = 4;
  const stated = { axis: { offsetEv: -12, gainEv: 5 }, noiseEv: 60 };
  const whole = { counts: new Float64Array(24), range: { lo: 3, hi: 22 } } as unknown as Frame;
  const merged = { counts: new Float64Array(6), range: { lo: 1, hi: 5 } } as unknown as Frame;
  const startOf = (model: readonly number[], background: readonly number[] | null = null): RoundStart =>
    ({
      model: Float64Array.from(model),
      background: background && Float64Array.from(background),
      backgroundLevel: 8,
      instrument: { axis: mergedAxis(stated.axis, by), detector: DEFAULT_DETECTOR },
    }) as unknown as RoundStart;
  const parted = (model: readonly number[]): number[] => [
    ...partedStart(startOf(model), merged, whole, stated, by).model,
  ];

  it('shares counts out by the slope between their neighbours', () => {
    const model = parted([0, 40, 80, 120, 160, 0]);
    // Channels 8 to 11 make the third one, of 80 with 40 and 120 beside it: 40 a channel of its width.
    expect(model.slice(8, 12)).toEqual([65, 75, 85, 95].map((value) => value / 4));
    // At the ends of the range the slope is one-sided: half of it.
    expect(model.slice(4, 8)).toEqual([32.5, 37.5, 42.5, 47.5].map((value) => value / 4));
    // Beyond what was merged it goes on as at the end, inside the range of single channels only.
    expect(model[3]).toBeCloseTo(10, 12);
    expect([model[2], model[21] > 0, model[22]]).toEqual([0, true, 0]);
  });

  it('leaves each channel a quarter of its even share where counts fall steeply', () => {
    const model = parted([0, 1000, 10, 10, 10, 0]);
    expect(model[11]).toBeCloseTo((0.25 * 10) / 4, 12);
    expect(model[8]).toBeCloseTo((10 + (0.375 * 990) / 2) / 4, 12);
  });

  it('has axis, level and background of single channels, and is the same where none are merged', () => {
    const start = startOf([0, 4, 4, 4, 4, 0], [0, 2, 2, 2, 2, 0]);
    const single = partedStart(start, merged, whole, stated, by);
    expect(single.instrument.axis.gainEv).toBeCloseTo(5, 12);
    expect(single.instrument.axis.offsetEv).toBeCloseTo(-12, 12);
    expect(single.backgroundLevel).toBe(2);
    expect(single.background![10]).toBe(0.5);
    expect(single.prior.offset.mean).toBeCloseTo(0, 9);
    expect(partedStart({ ...start, background: null }, merged, whole, stated, by).background).toBeNull();
    expect(partedStart(start, merged, whole, stated, 1)).toBe(start);
  });
});

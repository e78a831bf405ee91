import { describe, expect, it } from 'vitest';
import { mergedAxis, mergingOf, partedAxis } from './merged.ts';

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
});

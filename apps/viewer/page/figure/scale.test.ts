import { describe, expect, it } from 'vitest';
import { bottomOf, SCALES } from './scale.ts';

describe.each(Object.values(SCALES))('the $name scale', (scale) => {
  it.each([4, 37, 950, 5400, 2_300_000])('has a handful of ticks in order up to %i counts', (highest) => {
    const ticks = scale.ticks(highest);
    expect(ticks.length).toBeGreaterThanOrEqual(1);
    expect(ticks.length).toBeLessThanOrEqual(9);
    ticks.slice(1).forEach((tick, i) => expect(tick).toBeGreaterThan(ticks[i]));
    expect(ticks.at(-1)!).toBeLessThanOrEqual(1.5 * highest);
  });
  it('rises from zero, and shows what is in sight', () => {
    expect(scale.of(0)).toBe(0);
    expect(bottomOf(scale, 0)).toBe(0);
    expect(bottomOf(scale, 50)).toBeLessThan(scale.of(50));
    expect(scale.of(100)).toBeGreaterThan(scale.of(10));
  });
});

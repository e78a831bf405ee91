import { describe, expect, it } from 'vitest';
import { isBetterOfTwo, isNearEnough } from './at-rest.ts';

describe('two models that lead to each other', () => {
  it('are at rest at the better one, once each has come back to within 0.02', () => {
    expect(isBetterOfTwo([120, 110, 100, 120.019, 100.019])).toBe(false);
    expect(isBetterOfTwo([110, 120, 100, 120.019, 100.019])).toBe(true);
    expect(isBetterOfTwo([120, 100, 120.021, 100])).toBe(false);
    expect(isBetterOfTwo([120, 100, 120, 99.979])).toBe(false);
    // At the worse one of them it goes on.
    expect(isBetterOfTwo([100, 120, 100, 120])).toBe(false);
    expect(isBetterOfTwo([100, 100, 100, 100])).toBe(false);
    expect(isBetterOfTwo([100, 120, 100])).toBe(false);
  });
});

describe('a model that is hardly better than the one before', () => {
  const after = (expansions: number, before: number, now: number): boolean =>
    isNearEnough([...new Array<number>(expansions - 2).fill(500), before, now]);

  it('is taken from the sixth on, where it is less than 2 better', () => {
    expect(after(6, 100, 98.01)).toBe(true);
    expect(after(6, 100, 98)).toBe(false);
    expect(after(6, 100, 100)).toBe(true);
    expect(after(5, 100, 99.9)).toBe(false);
  });

  it('is taken from the ninth on where it is less than 2 worse', () => {
    expect(after(9, 100, 101.99)).toBe(true);
    expect(after(9, 100, 102)).toBe(false);
    expect(after(8, 100, 100.1)).toBe(false);
  });
});

import { expect, it } from 'vitest';
import { designCost, linearCost, strikingCost, Work } from './work.ts';

it('work is spent to the last, and what asks for more than is left ends it', () => {
  const work = new Work(100);
  work.spend(60);
  expect([work.left, work.isSpent]).toEqual([40, false]);
  expect([work.covers(40), work.isSpent]).toEqual([true, false]);
  expect([work.covers(41), work.isSpent, work.left]).toEqual([false, true, 0]);
  work.spend(5);
  expect(work.covers(1)).toBe(false);
  expect(work.left).toBe(-5);
  const exact = new Work(10);
  exact.spend(10);
  expect(exact.isSpent).toBe(true);
});

it('a linear model costs its columns squared, times a tenth of the channels and themselves; its columns cost by their channels', () => {
  // 20 columns over 1000 channels: 400 * (100 + 20).
  expect(linearCost(20, 1000)).toBe(48_000);
  // 9e5 * 50 + 6e3 * 2500.
  expect(designCost(2500)).toBe(6e7);
});

it('columns struck out cost their block’s factor, and a solution for each element', () => {
  // 80 * 300 * (160 + 300) + 2 * 300 cubed / 6.
  expect(strikingCost(80, 300)).toBe(11_040_000 + 9_000_000);
});

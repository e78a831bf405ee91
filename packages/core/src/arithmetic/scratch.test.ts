import { expect, it } from 'vitest';
import { Rack, Scratch } from './scratch.ts';

it('gives the length that is asked for, on memory that it keeps, and zeros where they are asked for', () => {
  const scratch = new Scratch();
  const first = scratch.of(100).fill(7);
  expect(first).toHaveLength(100);
  expect(scratch.of(100)).toBe(first);
  const less = scratch.of(40);
  expect(less).toHaveLength(40);
  expect(less.buffer).toBe(first.buffer);
  expect(scratch.zeros(40)).toEqual(new Float64Array(40));
});

it('keeps no memory of a size that is asked for once', () => {
  const scratch = new Scratch();
  const large = scratch.of(2 ** 20 + 1);
  expect(large.length).toBe(2 ** 20 + 1);
  expect(scratch.of(2 ** 20 + 1) === large).toBe(false);
});

it('gives out arrays that do not overlap, on the same memory again once all are given back', () => {
  const rack = new Rack();
  rack.of(10);
  rack.clear();
  const [a, b] = [rack.of(4).fill(1), rack.of(6).fill(2)];
  expect(a.buffer).toBe(b.buffer);
  expect([...a, ...b]).toEqual([1, 1, 1, 1, 2, 2, 2, 2, 2, 2]);
  expect(rack.of(1).buffer).not.toBe(a.buffer);
  rack.clear();
  expect(rack.zeros(11)).toEqual(new Float64Array(11));
});

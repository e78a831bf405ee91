import { expect, it } from 'vitest';
import { placeNames, type Placed, type Wish } from './label-places.ts';

const AREA = { width: 1000, height: 400 };
const flat = () => 0;
const box = ({ wish, raised }: Placed<Wish>) => ({
  left: wish.x - wish.width / 2,
  right: wish.x + wish.width / 2,
  low: wish.y + raised,
  high: wish.y + raised + wish.height,
});
const meet = (a: Placed<Wish>, b: Placed<Wish>): boolean => {
  const [p, q] = [box(a), box(b)];
  return p.left < q.right && q.left < p.right && p.low < q.high && q.low < p.high;
};

it('no name stands on another, however close the peaks', () => {
  const wishes = Array.from({ length: 30 }, (_, i) => ({
    x: 100 + 9 * i,
    y: 50 + ((i * 37) % 200),
    width: 40,
    height: 24,
  }));
  const placed = placeNames(wishes, flat, AREA);
  expect(placed.length).toBeGreaterThan(8);
  for (const a of placed) for (const b of placed) if (a !== b) expect(meet(a, b)).toBe(false);
});

it('a name keeps clear of a taller peak beside its own', () => {
  const skyline = (from: number, to: number): number => (from < 130 && to > 120 ? 180 : 60);
  const [placed] = placeNames([{ x: 110, y: 60, width: 40, height: 24 }], skyline, { width: 1000, height: 260 });
  expect(placed).toBeUndefined();
  const [near] = placeNames([{ x: 110, y: 120, width: 40, height: 24 }], skyline, AREA);
  expect(near.wish.y + near.raised).toBeGreaterThanOrEqual(180);
});

it('the tallest keeps its place; what finds none is left out', () => {
  const wishes = [
    { x: 500, y: 100, width: 40, height: 24 },
    { x: 505, y: 380, width: 40, height: 24 },
    { x: 10, y: 20, width: 40, height: 24 },
    { x: 700, y: 300, width: 40, height: 24 },
  ];
  const placed = placeNames(wishes, flat, AREA);
  expect(placed.map(({ wish }) => wish.x)).toEqual([700, 500]);
  expect(placed.every(({ raised }) => raised < 10)).toBe(true);
});

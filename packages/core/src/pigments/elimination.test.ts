import { expect, it } from 'vitest';
import { NotPositiveDefiniteError } from '../fit/cholesky.ts';
import { backInto, eliminate } from './elimination.ts';

/** Below the diagonal stands what is not read. */
const matrix = [
  [4, 1, -0.5],
  [NaN, 3, 0.7],
  [NaN, NaN, 2],
];
const A = (r: number, c: number): number => matrix[Math.min(r, c)][Math.max(r, c)];
const [x, z] = [
  [1, -2, 0.5],
  [0, 3, 1],
];
const places = [0, 1, 2];

it('elimination leaves what solves the equations of each row below, and products of rows by the inverse', () => {
  const inverses = new Float64Array(3);
  const a = Float64Array.from([...matrix, x, z].flat());
  eliminate(a, 3, 5, inverses);
  const solved = [3, 4].map((below) => {
    const out = new Float64Array(3);
    backInto(out, a, 3, below, inverses);
    return out;
  });
  [x, z].forEach((row, k) => {
    for (const r of places) expect(places.reduce((sum, c) => sum + A(r, c) * solved[k][c], 0)).toBeCloseTo(row[r], 12);
  });
  const product = places.reduce((sum, j) => sum + a[9 + j] * a[12 + j] * inverses[j], 0);
  expect(product).toBeCloseTo(
    places.reduce((sum, r) => sum + x[r] * solved[1][r], 0),
    12,
  );
});

it('the pivots multiply to the determinant', () => {
  const inverses = new Float64Array(2);
  eliminate(Float64Array.of(4, 1, NaN, 3), 2, 2, inverses);
  expect(1 / (inverses[0] * inverses[1])).toBeCloseTo(11, 12);
});

it('a matrix that is not positive definite has no pivot', () => {
  expect(() => eliminate(Float64Array.of(1, 2, NaN, 1), 2, 2, new Float64Array(2))).toThrow(NotPositiveDefiniteError);
});

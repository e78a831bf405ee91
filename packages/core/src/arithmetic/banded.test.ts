import { describe, expect, it } from 'vitest';
import { addBanded, banded, bandedAfter, bandedOf, bandedProduct, type Banded } from './banded.ts';

/** Row i: 10 i + 1 on the diagonal, 10 i + 2 and 10 i + 3 right of it, as far as there are places. */
function example(size: number): Banded {
  const matrix = banded(size);
  for (let i = 0; i < size; i++) {
    matrix.own[i] = 10 * i + 1;
    if (i + 1 < size) matrix.next[i] = 10 * i + 2;
    if (i + 2 < size) matrix.second[i] = 10 * i + 3;
  }
  return matrix;
}

function written(matrix: Banded): number[][] {
  const { size } = matrix;
  const out = new Float64Array(size * size);
  addBanded(out, matrix);
  return Array.from({ length: size }, (_, i) => [...out.subarray(i * size, (i + 1) * size)]);
}

describe('a banded matrix', () => {
  it('is written out symmetrically', () => {
    expect(written(example(4))).toEqual([
      [1, 2, 3, 0],
      [2, 11, 12, 13],
      [3, 12, 21, 22],
      [0, 13, 22, 31],
    ]);
  });

  it('times a vector is what its written rows give', () => {
    const matrix = example(6);
    const vector = Float64Array.of(1, -2, 3, 0.5, 7, -4);
    const rows = written(matrix).map((row) => row.reduce((sum, value, j) => sum + value * vector[j], 0));
    expect(rows.map((_, i) => bandedProduct(matrix, i, vector))).toEqual(rows);
  });

  it('keeps of its rows and columns what its written form keeps', () => {
    const matrix = example(7);
    for (const keep of [[0, 1, 2, 3, 4, 5, 6], [0, 2, 3, 5], [1, 4, 6], [3], []]) {
      const whole = written(matrix);
      expect(written(bandedOf(matrix, keep))).toEqual(keep.map((i) => keep.map((j) => whole[i][j])));
    }
  });

  it('has zeros put before it', () => {
    expect(written(bandedAfter(2, example(2)))).toEqual([
      [0, 0, 0, 0],
      [0, 0, 0, 0],
      [0, 0, 1, 2],
      [0, 0, 2, 11],
    ]);
  });
});

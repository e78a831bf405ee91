/**
 * A symmetric matrix that is 0 beyond the second places beside its diagonal. Row i has `own[i]` on the diagonal, `next[i]` one place to the right
 * of it and `second[i]` two places.
 */
export interface Banded {
  readonly size: number;
  readonly own: Float64Array;
  readonly next: Float64Array;
  readonly second: Float64Array;
}

/** One of zeros, or of a diagonal. */
export function banded(size: number, own: Float64Array = new Float64Array(size)): Banded {
  return { size, own, next: new Float64Array(size), second: new Float64Array(size) };
}

/** What stands right of the diagonal or on it, `beside` places away: 0, 1 or 2. */
const besides = ({ own, next, second }: Banded): readonly Float64Array[] => [own, next, second];

/** Its rows and columns `keep` alone; ascending, so that none moves away from the diagonal. */
export function bandedOf(matrix: Banded, keep: readonly number[]): Banded {
  const out = banded(keep.length);
  const [from, to] = [besides(matrix), besides(out)];
  for (let r = 0; r < keep.length; r++) {
    for (let beside = 0; beside < 3 && r + beside < keep.length; beside++) {
      const distance = keep[r + beside] - keep[r];
      if (distance < 3) to[beside][r] = from[distance][keep[r]];
    }
  }
  return out;
}

/** The same with `count` rows and columns of zeros before it. */
export function bandedAfter(count: number, matrix: Banded): Banded {
  const out = banded(count + matrix.size);
  out.own.set(matrix.own, count);
  out.next.set(matrix.next, count);
  out.second.set(matrix.second, count);
  return out;
}

/** out += matrix, for a square matrix `out` of its size, row-major. */
export function addBanded(out: Float64Array, { size, own, next, second }: Banded): void {
  for (let i = 0; i < size; i++) {
    const at = i * size + i;
    out[at] += own[i];
    if (i + 1 < size) {
      out[at + 1] += next[i];
      out[at + size] += next[i];
    }
    if (i + 2 < size) {
      out[at + 2] += second[i];
      out[at + 2 * size] += second[i];
    }
  }
}

/** Row i of the matrix times a vector. */
export function bandedProduct({ size, own, next, second }: Banded, i: number, vector: Float64Array): number {
  let sum = 0;
  if (i > 1) sum += second[i - 2] * vector[i - 2];
  if (i > 0) sum += next[i - 1] * vector[i - 1];
  sum += own[i] * vector[i];
  if (i + 1 < size) sum += next[i] * vector[i + 1];
  if (i + 2 < size) sum += second[i] * vector[i + 2];
  return sum;
}

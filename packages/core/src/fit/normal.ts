import type { Column } from '../model/column.ts';

/** The weighted normal equations of a linear model: AᵀWA (p × p, row-major, symmetric) and AᵀWy (p). */
export interface NormalEquations {
  readonly matrix: Float64Array;
  readonly rhs: Float64Array;
  readonly size: number;
}

/**
 * Normal equations of `columns` for data y and weights w over channels [lo, hi). Bands are respected: two columns
 * that do not meet cost nothing.
 * @param y counts, length n
 * @param w weight per channel (1 / variance), length n, >= 0
 */
export function normalEquations(
  columns: readonly Column[],
  y: Float64Array,
  w: Float64Array,
  lo: number,
  hi: number,
): NormalEquations {
  const p = columns.length;
  const matrix = new Float64Array(p * p);
  const rhs = new Float64Array(p);
  const root = new Float64Array(hi);
  const weightedData = new Float64Array(hi);
  for (let i = lo; i < hi; i++) {
    root[i] = Math.sqrt(w[i]);
    weightedData[i] = root[i] * y[i];
  }
  const bands = columns.map((column) => weightedBand(column, root, lo, hi));
  for (let i = 0; i < p; i++) {
    const a = bands[i];
    rhs[i] = dot(a.values, 0, weightedData, a.lo, a.values.length);
    for (let j = 0; j <= i; j++) {
      const b = bands[j];
      const from = Math.max(a.lo, b.lo);
      const count = Math.min(a.lo + a.values.length, b.lo + b.values.length) - from;
      if (count <= 0) continue;
      const value = dot(a.values, from - a.lo, b.values, from - b.lo, count);
      matrix[i * p + j] = value;
      matrix[j * p + i] = value;
    }
  }
  return { matrix, rhs, size: p };
}

function weightedBand(
  column: Column,
  root: Float64Array,
  lo: number,
  hi: number,
): { lo: number; values: Float64Array } {
  const from = Math.max(lo, column.lo);
  const to = Math.max(from, Math.min(hi, column.hi));
  const values = new Float64Array(to - from);
  for (let i = from; i < to; i++) values[i - from] = column.values[i] * root[i];
  return { lo: from, values };
}

/** Four partial sums keep the processor's adders busy; the order is fixed, so results are the same everywhere. */
function dot(a: Float64Array, ai: number, b: Float64Array, bi: number, count: number): number {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let k = 0;
  for (; k + 3 < count; k += 4) {
    s0 += a[ai + k] * b[bi + k];
    s1 += a[ai + k + 1] * b[bi + k + 1];
    s2 += a[ai + k + 2] * b[bi + k + 2];
    s3 += a[ai + k + 3] * b[bi + k + 3];
  }
  for (; k < count; k++) s0 += a[ai + k] * b[bi + k];
  return s0 + s1 + (s2 + s3);
}

import type { Column } from '../model/column.ts';

/** The weighted normal equations of a linear model: AᵀWA (p × p, row-major, symmetric) and AᵀWy (p). */
export interface NormalEquations {
  readonly matrix: Float64Array;
  readonly rhs: Float64Array;
  readonly size: number;
}

/**
 * Normal equations of `columns` for data y and weights w over channels [lo, hi). Only channels where two columns are both
 * at work are visited.
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
  const weighted = new Float64Array(y.length);
  const runs = columns.map((column) => clipped(column.runs, lo, hi));
  for (let i = 0; i < p; i++) {
    const a = columns[i].values;
    const own = runs[i];
    // Once per column: the weights are folded into it, so that every product is a plain one.
    for (let r = 0; r < own.length; r += 2) {
      for (let k = own[r]; k < own[r + 1]; k++) weighted[k] = a[k] * w[k];
      rhs[i] += dot(weighted, y, own[r], own[r + 1]);
    }
    const { lo: from, hi: to } = columns[i];
    for (let j = 0; j <= i; j++) {
      // Most pairs of narrow columns lie apart.
      if (columns[j].hi <= from || columns[j].lo >= to) continue;
      const value = overlap(weighted, own, columns[j].values, runs[j]);
      matrix[i * p + j] = value;
      matrix[j * p + i] = value;
    }
  }
  return { matrix, rhs, size: p };
}

/** Runs inside [lo, hi). */
function clipped(runs: Int32Array, lo: number, hi: number): Int32Array {
  if (runs.length === 0 || (runs[0] >= lo && runs.at(-1)! <= hi)) return runs;
  const inside: number[] = [];
  for (let r = 0; r < runs.length; r += 2) {
    const from = Math.max(lo, runs[r]);
    const to = Math.min(hi, runs[r + 1]);
    if (from < to) inside.push(from, to);
  }
  return Int32Array.from(inside);
}

/** Sum of a b over the channels that lie in runs of both. */
function overlap(a: Float64Array, runsA: Int32Array, b: Float64Array, runsB: Int32Array): number {
  let sum = 0;
  let i = 0;
  let j = 0;
  while (i < runsA.length && j < runsB.length) {
    const from = runsA[i] > runsB[j] ? runsA[i] : runsB[j];
    const [endA, endB] = [runsA[i + 1], runsB[j + 1]];
    const to = endA < endB ? endA : endB;
    if (from < to) sum += dot(a, b, from, to);
    if (endA < endB) i += 2;
    else j += 2;
  }
  return sum;
}

/** Four partial sums keep the processor's adders busy; the order is fixed, so results are the same everywhere. */
function dot(a: Float64Array, b: Float64Array, from: number, to: number): number {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let k = from;
  for (; k + 3 < to; k += 4) {
    s0 += a[k] * b[k];
    s1 += a[k + 1] * b[k + 1];
    s2 += a[k + 2] * b[k + 2];
    s3 += a[k + 3] * b[k + 3];
  }
  for (; k < to; k++) s0 += a[k] * b[k];
  return s0 + s1 + (s2 + s3);
}

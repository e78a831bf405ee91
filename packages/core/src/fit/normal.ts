import type { Column } from '../model/column.ts';

/** The weighted normal equations of a linear model: AᵀWA (p × p, row-major, symmetric) and AᵀWy (p). */
export interface NormalEquations {
  readonly matrix: Float64Array;
  readonly rhs: Float64Array;
  readonly size: number;
}

/** Channels that are worked on together: few enough that a narrow column fills them, many enough that sums stay in registers. */
const TILE = 32;
/** Columns of one block of sums: a tile's are filled up with empty ones to a multiple of it. */
const BLOCK = 4;

/**
 * Normal equations of `columns` for data y and weights w over channels [lo, hi), tile by tile of channels: of each tile only the
 * columns at work there are visited. The order of sums is fixed, so results are the same everywhere.
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
  const tiles = columnsByTile(columns, lo, hi);
  const widest = tiles.reduce((most, { length }) => Math.max(most, length), 0) + BLOCK;
  const plain = new Float64Array(widest * TILE);
  const weighted = new Float64Array(widest * TILE);
  tiles.forEach((active, t) => {
    const from = lo + t * TILE;
    const width = Math.min(TILE, hi - from);
    active.forEach((j, a) => (rhs[j] += fill(plain, weighted, a * TILE, columns[j], y, w, from, width)));
    const used = active.length * TILE;
    plain.fill(0, used, used + BLOCK * TILE);
    weighted.fill(0, used, used + BLOCK * TILE);
    addProducts(matrix, p, active, plain, weighted);
  });
  for (let i = 0; i < p; i++) for (let j = 0; j < i; j++) matrix[j * p + i] = matrix[i * p + j];
  return { matrix, rhs, size: p };
}

/** Indices of the columns at work in each tile, ascending. */
function columnsByTile(columns: readonly Column[], lo: number, hi: number): number[][] {
  const tiles: number[][] = Array.from({ length: Math.max(0, Math.ceil((hi - lo) / TILE)) }, () => []);
  columns.forEach(({ runs }, j) => {
    let next = 0;
    for (let r = 0; r < runs.length; r += 2) {
      const [from, to] = [Math.max(lo, runs[r]), Math.min(hi, runs[r + 1])];
      if (from >= to) continue;
      const last = Math.floor((to - 1 - lo) / TILE);
      for (let t = Math.max(next, Math.floor((from - lo) / TILE)); t <= last; t++) tiles[t].push(j);
      next = Math.max(next, last + 1);
    }
  });
  return tiles;
}

/** Puts a tile's part of a column into place `at`, as it is and times the weights; its weighted product with y. */
function fill(
  plain: Float64Array,
  weighted: Float64Array,
  at: number,
  { values, lo, hi }: Column,
  y: Float64Array,
  w: Float64Array,
  from: number,
  width: number,
): number {
  let sum = 0;
  for (let k = 0; k < TILE; k++) {
    const i = from + k;
    const value = k < width && i >= lo && i < hi ? values[i - lo] : 0;
    plain[at + k] = value;
    const heavy = value === 0 ? 0 : value * w[i];
    weighted[at + k] = heavy;
    if (heavy !== 0) sum += heavy * y[i];
  }
  return sum;
}

/** Adds the products of a tile's columns, two by four: eight sums that need six values at a time. The lower triangle is whole. */
function addProducts(
  matrix: Float64Array,
  p: number,
  active: readonly number[],
  plain: Float64Array,
  weighted: Float64Array,
): void {
  const count = active.length;
  for (let a = 0; a < count; a += 2) {
    const a0 = a * TILE;
    const a1 = a0 + TILE;
    const row0 = active[a] * p;
    const row1 = a + 1 < count ? active[a + 1] * p : -1;
    for (let b = 0; b <= a + 1 && b < count; b += BLOCK) {
      const b0 = b * TILE;
      let [s00, s01, s02, s03] = [0, 0, 0, 0];
      let [s10, s11, s12, s13] = [0, 0, 0, 0];
      for (let k = 0; k < TILE; k++) {
        const u = weighted[a0 + k];
        const v = weighted[a1 + k];
        const c0 = plain[b0 + k];
        const c1 = plain[b0 + TILE + k];
        const c2 = plain[b0 + 2 * TILE + k];
        const c3 = plain[b0 + 3 * TILE + k];
        s00 += u * c0;
        s01 += u * c1;
        s02 += u * c2;
        s03 += u * c3;
        s10 += v * c0;
        s11 += v * c1;
        s12 += v * c2;
        s13 += v * c3;
      }
      // Where the block reaches beyond the diagonal or the last column, there is nothing to keep.
      const most = Math.min(BLOCK, count - b);
      matrix[row0 + active[b]] += s00;
      if (most > 1) matrix[row0 + active[b + 1]] += s01;
      if (most > 2) matrix[row0 + active[b + 2]] += s02;
      if (most > 3) matrix[row0 + active[b + 3]] += s03;
      if (row1 < 0) continue;
      matrix[row1 + active[b]] += s10;
      if (most > 1) matrix[row1 + active[b + 1]] += s11;
      if (most > 2) matrix[row1 + active[b + 2]] += s12;
      if (most > 3) matrix[row1 + active[b + 3]] += s13;
    }
  }
}

import type { Column } from '../model/column.ts';
import { bundleOf, lessShares, withShares } from './bundle.ts';
import { kernel, type Kernel } from './kernel.ts';

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
 * @param matrix where the matrix goes, p × p
 */
export function normalEquations(
  columns: readonly Column[],
  y: Float64Array,
  w: Float64Array,
  lo: number,
  hi: number,
  matrix: Float64Array = new Float64Array(columns.length ** 2),
): NormalEquations {
  const bundle = bundleOf(columns);
  const own = ownEquations(bundle.own, y, w, lo, hi);
  withShares(bundle, own.matrix, matrix);
  return { matrix, rhs: lessShares(bundle, own.rhs), size: columns.length };
}

/** Those of the columns' own values; the matrix is void once the kernel is used again. */
function ownEquations(
  columns: readonly Column[],
  y: Float64Array,
  w: Float64Array,
  lo: number,
  hi: number,
): Pick<NormalEquations, 'matrix' | 'rhs'> {
  const p = columns.length;
  const rhs = new Float64Array(p);
  const tiles = columnsByTile(columns, lo, hi);
  const widest = longest(tiles) + BLOCK;
  // One stretch of memory: the matrix, a tile's columns as they are and times the weights, and their numbers.
  const place: Place = { p, plain: p * p, weighted: p * p + widest * TILE, active: p * p + 2 * widest * TILE };
  const size = place.active + widest;
  const compiled = kernel();
  const memory = compiled?.doubles(size) ?? new Float64Array(size);
  const numbers = compiled?.integers() ?? new Int32Array(2 * size);
  memory.fill(0, 0, p * p);
  for (let t = 0; t < tiles.length; t++) {
    const active = tiles[t];
    const last = (active.length - (active.length % BLOCK)) * TILE;
    memory.fill(0, place.plain + last, place.plain + last + BLOCK * TILE);
    memory.fill(0, place.weighted + last, place.weighted + last + BLOCK * TILE);
    const from = lo + t * TILE;
    for (let a = 0; a < active.length; a++) {
      const j = active[a];
      numbers[2 * place.active + a] = j;
      rhs[j] += fill(memory, place, a, columns[j], y, w, from, Math.min(hi, from + TILE));
    }
    if (compiled) addCompiled(compiled, place, active.length);
    else addProducts(memory, place, active);
  }
  for (let i = 0; i < p; i++) for (let j = 0; j < i; j++) memory[j * p + i] = memory[i * p + j];
  return { matrix: memory, rhs };
}

/** Where things lie in memory, in numbers of 8 bytes; columns of a tile in blocks of four, channel by channel. */
interface Place {
  readonly p: number;
  readonly plain: number;
  readonly weighted: number;
  readonly active: number;
}

function longest(lists: readonly (readonly number[])[]): number {
  let most = 0;
  for (const { length } of lists) most = Math.max(most, length);
  return most;
}

/** Indices of the columns at work in each tile, ascending. */
function columnsByTile(columns: readonly Column[], lo: number, hi: number): number[][] {
  const tiles: number[][] = [];
  for (let from = lo; from < hi; from += TILE) tiles.push([]);
  for (let j = 0; j < columns.length; j++) {
    const { runs } = columns[j];
    let next = 0;
    for (let r = 0; r < runs.length; r += 2) {
      const from = Math.max(lo, runs[r]);
      const to = Math.min(hi, runs[r + 1]);
      if (from >= to) continue;
      const last = Math.floor((to - 1 - lo) / TILE);
      for (let t = Math.max(next, Math.floor((from - lo) / TILE)); t <= last; t++) tiles[t].push(j);
      next = Math.max(next, last + 1);
    }
  }
  return tiles;
}

/** Puts a tile's part of column `a` of the tile into its place, as it is and times the weights; its weighted product with y. */
function fill(
  memory: Float64Array,
  { plain, weighted }: Place,
  a: number,
  { values, lo, hi }: Column,
  y: Float64Array,
  w: Float64Array,
  from: number,
  to: number,
): number {
  const within = a % BLOCK;
  const at = (a - within) * TILE + within;
  const [first, end] = [Math.max(from, lo), Math.min(to, hi)];
  for (let k = 0; k < TILE; k++) {
    const i = from + k;
    if (i >= first && i < end) continue;
    memory[plain + at + BLOCK * k] = 0;
    memory[weighted + at + BLOCK * k] = 0;
  }
  let sum = 0;
  for (let i = first; i < end; i++) {
    const value = values[i - lo];
    const heavy = value * w[i];
    const k = at + BLOCK * (i - from);
    memory[plain + k] = value;
    memory[weighted + k] = heavy;
    sum += heavy * y[i];
  }
  return sum;
}

function addCompiled({ loops }: Kernel, { p, plain, weighted, active }: Place, count: number): void {
  loops.products(0, p, 8 * active, count, 8 * plain, 8 * weighted, TILE);
}

/** Adds the products of a tile's columns, two by four: eight sums that need six values at a time. The lower triangle is whole. */
function addProducts(memory: Float64Array, { p, plain, weighted }: Place, active: readonly number[]): void {
  const count = active.length;
  for (let a = 0; a < count; a += 2) {
    const row0 = active[a] * p;
    const row1 = a + 1 < count ? active[a + 1] * p : -1;
    for (let b = 0; b <= a + 1 && b < count; b += BLOCK) {
      let at = plain + b * TILE;
      let own = weighted + (a - (a % BLOCK)) * TILE + (a % BLOCK);
      let [s00, s01, s02, s03] = [0, 0, 0, 0];
      let [s10, s11, s12, s13] = [0, 0, 0, 0];
      for (let k = 0; k < TILE; k++, at += BLOCK, own += BLOCK) {
        const u = memory[own];
        const v = memory[own + 1];
        const c0 = memory[at];
        const c1 = memory[at + 1];
        const c2 = memory[at + 2];
        const c3 = memory[at + 3];
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
      memory[row0 + active[b]] += s00;
      if (most > 1) memory[row0 + active[b + 1]] += s01;
      if (most > 2) memory[row0 + active[b + 2]] += s02;
      if (most > 3) memory[row0 + active[b + 3]] += s03;
      if (row1 < 0) continue;
      memory[row1 + active[b]] += s10;
      if (most > 1) memory[row1 + active[b + 1]] += s11;
      if (most > 2) memory[row1 + active[b + 2]] += s12;
      if (most > 3) memory[row1 + active[b + 3]] += s13;
    }
  }
}

import { stretch } from './stretch.ts';

/**
 * One column of the linear model: expected counts per channel for a coefficient of 1.
 * `values` are those of channels [lo, hi), all others are zero; inside, `runs` names the stretches that matter: the lines of an element
 * leave wide gaps between its families.
 */
export interface Column {
  readonly values: Float64Array;
  readonly lo: number;
  readonly hi: number;
  /** First channel and end of each stretch, ascending: from, to, from, to, ... */
  readonly runs: Int32Array;
  /** A share of a wider column that is taken off, without being written out: what bends a small part of a shape stays narrow. */
  readonly less?: { readonly of: Column; readonly share: number };
}

/** Zeros in a row that end a stretch; shorter gaps cost less than one more stretch. */
const GAP = 16;

/** A column of the values of channels [from, to), which are copied. */
export function columnOf(values: Float64Array, from = 0, to = values.length): Column {
  const { values: band, lo, hi, runs } = columnFrom(values, 0, from, to);
  const own = stretch(band.length);
  for (let i = 0; i < own.length; i++) own[i] = band[i];
  return { values: own, lo, hi, runs };
}

/**
 * A column with its band and stretches found, which keeps the array.
 * @param values of channels `first`, `first + 1`, ...
 * @param start @param end places in `values` outside of which all are zero
 */
export function columnFrom(values: Float64Array, first: number, start = 0, end = values.length): Column {
  let from = Math.max(0, start);
  let to = Math.min(values.length, end);
  while (from < to && values[from] === 0) from++;
  while (to > from && values[to - 1] === 0) to--;
  if (from >= to)
    return { values: values.subarray(0, 0), lo: first + values.length, hi: first + values.length, runs: NONE };
  return {
    values: values.subarray(from, to),
    lo: first + from,
    hi: first + to,
    runs: stretches(values, first, from, to),
  };
}

const NONE = new Int32Array(0);

function stretches(values: Float64Array, first: number, from: number, to: number): Int32Array {
  const ends: number[] = [];
  let last = from;
  for (let i = from; i < to; i++) {
    if (values[i] === 0) continue;
    if (i - last > GAP) ends.push(last + 1, i);
    last = i;
  }
  const runs = new Int32Array(ends.length + 2);
  runs[0] = first + from;
  for (let r = 0; r < ends.length; r++) runs[r + 1] = first + ends[r];
  runs[ends.length + 1] = first + to;
  return runs;
}

/** The values of all n channels. */
export function spreadOut({ values, lo, less }: Column, n: number): Float64Array {
  const out = new Float64Array(n);
  out.set(values, Math.min(lo, n));
  if (less) addScaled(out, less.of, -less.share);
  return out;
}

/** Value in a channel. */
export function valueAt({ values, lo, less }: Column, channel: number): number {
  return (values[channel - lo] ?? 0) - (less ? less.share * valueAt(less.of, channel) : 0);
}

/** out += factor * column. */
export function addScaled(out: Float64Array, column: Column, factor: number): void {
  addOwn(out, column, factor);
  if (column.less) addOwn(out, column.less.of, -factor * column.less.share);
}

/** The same of the column's own values, whatever is taken off them. */
export function addOwn(out: Float64Array, { values, lo, runs }: Column, factor: number): void {
  if (factor === 0) return;
  for (let r = 0; r < runs.length; r += 2) {
    const end = runs[r + 1];
    for (let i = runs[r]; i < end; i++) out[i] += factor * values[i - lo];
  }
}

/** Sum over [lo, hi) of the column's own values, whatever is taken off them, times values per channel. */
export function ownProduct(
  { values, lo: first, runs }: Column,
  perChannel: Float64Array,
  lo: number,
  hi: number,
): number {
  let sum = 0;
  for (let r = 0; r < runs.length; r += 2) {
    const end = Math.min(hi, runs[r + 1]);
    for (let i = Math.max(lo, runs[r]); i < end; i++) sum += values[i - first] * perChannel[i];
  }
  return sum;
}

/** Counts that a coefficient of 1 puts inside [lo, hi), of a column that nothing is taken off. */
export function countsWithin(column: Column, { lo, hi }: { readonly lo: number; readonly hi: number }): number {
  let sum = 0;
  for (let i = Math.max(lo, column.lo); i < Math.min(hi, column.hi); i++) sum += column.values[i - column.lo];
  return sum;
}

/**
 * Weighted sum of squares over [lo, hi), of a column that nothing is taken off: 1 / variance of its coefficient on its own.
 * @param weights 1 / variance per channel
 */
export function information(column: Column, weights: Float64Array, lo: number, hi: number): number {
  const { values, lo: first, runs } = column;
  let sum = 0;
  for (let r = 0; r < runs.length; r += 2) {
    const end = Math.min(hi, runs[r + 1]);
    for (let i = Math.max(lo, runs[r]); i < end; i++) sum += weights[i] * values[i - first] * values[i - first];
  }
  return sum;
}

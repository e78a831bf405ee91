import { stretch } from '../arithmetic/stretch.ts';

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
  readonly runs: readonly number[];
  /** A share of a wider column that is taken off, without being written out: what bends a small part of a shape stays narrow. */
  readonly less?: { readonly of: Column; readonly share: number };
}

/** Zeros in a row that end a stretch; shorter gaps cost less than one more stretch. */
const GAP = 16;

/** A column of the values of channels [from, to), which are copied. */
export function columnOf(values: Float64Array, from = 0, to = values.length): Column {
  const last = Math.min(values.length, to);
  const first = firstIn(values, Math.max(0, from), last);
  if (first >= last) return emptyAt(values.length);
  const end = endIn(values, first, last);
  const own = stretch(end - first);
  for (let i = 0; i < own.length; i++) own[i] = values[first + i];
  return { values: own, lo: first, hi: end, runs: stretches(values, 0, first, end) };
}

/**
 * A column with its band and stretches found, which keeps the array.
 * @param values of channels `first`, `first + 1`, ...
 */
export function columnFrom(values: Float64Array, first: number): Column {
  const from = firstIn(values, 0, values.length);
  if (from >= values.length) return emptyAt(first + values.length);
  const to = endIn(values, from, values.length);
  return {
    values: from === 0 && to === values.length ? values : values.subarray(from, to),
    lo: first + from,
    hi: first + to,
    runs: stretches(values, first, from, to),
  };
}

/** The first place in [from, to) that is not 0. */
function firstIn(values: Float64Array, from: number, to: number): number {
  let first = from;
  while (first < to && values[first] === 0) first++;
  return first;
}

/** The end of what is not 0. */
function endIn(values: Float64Array, from: number, to: number): number {
  let end = to;
  while (end > from && values[end - 1] === 0) end--;
  return end;
}

const NONE = new Float64Array(0);
const emptyAt = (channel: number): Column => ({ values: NONE, lo: channel, hi: channel, runs: [] });

function stretches(values: Float64Array, first: number, from: number, to: number): number[] {
  const ends = [first + from];
  let last = from;
  for (let i = from; i < to; i++) {
    if (values[i] === 0) continue;
    if (i - last > GAP) ends.push(first + last + 1, first + i);
    last = i;
  }
  ends.push(first + to);
  return ends;
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

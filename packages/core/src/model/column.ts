/**
 * One column of the linear model: expected counts per channel for a coefficient of 1.
 * `values` has one entry per channel of the spectrum and is zero outside [lo, hi); inside, `runs` names the stretches that
 * matter: the lines of an element leave wide gaps between its families.
 */
export interface Column {
  readonly values: Float64Array;
  readonly lo: number;
  readonly hi: number;
  /** First channel and end of each stretch, ascending: from, to, from, to, ... */
  readonly runs: Int32Array;
}

/** Zeros in a row that end a stretch; shorter gaps cost less than one more stretch. */
const GAP = 16;

/** A column with its band and stretches found. */
export function columnOf(values: Float64Array): Column {
  const ends: number[] = [];
  const n = values.length;
  let i = 0;
  while (i < n) {
    while (i < n && values[i] === 0) i++;
    if (i === n) break;
    const from = i;
    let last = i;
    for (; i < n && i - last <= GAP; i++) if (values[i] !== 0) last = i;
    ends.push(from, last + 1);
    i = last + 1;
  }
  const runs = Int32Array.from(ends);
  return { values, lo: runs[0] ?? n, hi: runs.at(-1) ?? n, runs };
}

/** out += factor * column. */
export function addScaled(out: Float64Array, { values, runs }: Column, factor: number): void {
  if (factor === 0) return;
  for (let r = 0; r < runs.length; r += 2) {
    for (let i = runs[r]; i < runs[r + 1]; i++) out[i] += factor * values[i];
  }
}

/** Counts that a coefficient of 1 puts inside [lo, hi). */
export function countsWithin(column: Column, { lo, hi }: { readonly lo: number; readonly hi: number }): number {
  let sum = 0;
  for (let i = Math.max(lo, column.lo); i < Math.min(hi, column.hi); i++) sum += column.values[i];
  return sum;
}

/** Weighted sum of squares over [lo, hi): 1 / variance of the column's coefficient on its own. @param weights 1 / variance per channel */
export function information({ values, runs }: Column, weights: Float64Array, lo: number, hi: number): number {
  let sum = 0;
  for (let r = 0; r < runs.length; r += 2) {
    for (let i = Math.max(lo, runs[r]); i < Math.min(hi, runs[r + 1]); i++) sum += weights[i] * values[i] * values[i];
  }
  return sum;
}

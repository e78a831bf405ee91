/**
 * One column of the linear model: expected counts per channel for a coefficient of 1.
 * `values` has one entry per channel of the spectrum and is zero outside [lo, hi).
 */
export interface Column {
  readonly values: Float64Array;
  readonly lo: number;
  readonly hi: number;
}

/** A column with its band found: the shortest [lo, hi) that holds every non-zero value. */
export function columnOf(values: Float64Array): Column {
  let lo = 0;
  let hi = values.length;
  while (lo < hi && values[lo] === 0) lo++;
  while (hi > lo && values[hi - 1] === 0) hi--;
  return { values, lo, hi };
}

/** out += factor * column, over the column's band. */
export function addScaled(out: Float64Array, column: Column, factor: number): void {
  if (factor === 0) return;
  const { values, lo, hi } = column;
  for (let i = lo; i < hi; i++) out[i] += factor * values[i];
}

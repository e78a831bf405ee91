/** A straight line through the energies of a column: `offset + gain * i`. */
export interface Line {
  readonly offset: number;
  readonly gain: number;
  /** Largest distance of an energy from the line. */
  readonly worst: number;
  /** Smallest step between neighbours that differ: the gain, or the rounding of the column when that is coarser. */
  readonly step: number;
}

/** Least-squares line through equally weighted values at 0, 1, 2, ... */
export function lineThrough(values: Float64Array): Line {
  const n = values.length;
  const middle = (n - 1) / 2;
  let mean = 0;
  for (const value of values) mean += value / n;
  let slope = 0;
  for (let i = 0; i < n; i++) slope += (i - middle) * (values[i] - mean);
  const gain = slope / ((n * (n * n - 1)) / 12);
  const offset = mean - gain * middle;
  let worst = 0;
  let step = Infinity;
  for (let i = 0; i < n; i++) {
    worst = Math.max(worst, Math.abs(values[i] - offset - gain * i));
    if (i > 0 && values[i] !== values[i - 1]) step = Math.min(step, Math.abs(values[i] - values[i - 1]));
  }
  return { offset: tidy(offset), gain: tidy(gain), worst, step };
}

/** Whether the values lie on their line as well as rounding allows (half a step, and half as much again for the line that rounding shifts). */
export function isLinear(line: Line): boolean {
  return line.gain > 0 && line.worst <= 0.75 * Math.max(line.step, line.gain);
}

/** Never falling, and higher at the end than at the start. */
export function isAscending(values: Float64Array): boolean {
  for (let i = 1; i < values.length; i++) if (!(values[i] >= values[i - 1])) return false;
  return values.length > 1 && values.at(-1)! > values[0];
}

/** Drops the last digits, which are noise of the arithmetic. */
function tidy(value: number): number {
  return Number(value.toPrecision(12)) + 0;
}

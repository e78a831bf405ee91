/** Sum of the values in [from, to). */
export function sumOver(values: Float64Array, from = 0, to = values.length): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += values[i];
  return sum;
}

/** Divides values by their sum, in place. */
export function normalise(values: Float64Array): Float64Array {
  const total = sumOver(values);
  for (let i = 0; i < values.length; i++) values[i] /= total;
  return values;
}

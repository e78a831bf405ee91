/** Sum of the values in [from, to). */
export function sumOver(values: Float64Array, from = 0, to = values.length): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += values[i];
  return sum;
}

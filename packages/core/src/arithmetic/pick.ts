/** The values at some places. */
export function picked(values: Float64Array, places: readonly number[]): Float64Array {
  const out = new Float64Array(places.length);
  for (let i = 0; i < out.length; i++) out[i] = values[places[i]];
  return out;
}

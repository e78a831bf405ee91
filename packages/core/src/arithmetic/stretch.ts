/** Numbers in one block of memory: few enough that a block is gone soon after the arrays in it. */
const BLOCK = 8192;

let block = new Float64Array(0);
let used = 0;

/**
 * An array of zeros. Short ones are stretches of a common block: a reading makes tens of thousands of them, and the engine takes about a
 * microsecond to give one memory of its own, fifty times as long as for a stretch. Not for what is kept, or leaves the core: the block
 * goes along.
 */
export function stretch(length: number): Float64Array {
  if (length > BLOCK / 4) return new Float64Array(length);
  if (used + length > block.length) [block, used] = [new Float64Array(BLOCK), 0];
  const from = used;
  used += length;
  return block.subarray(from, used);
}

/** A copy of a short array, as a stretch. */
export function copied(values: Float64Array): Float64Array {
  const out = stretch(values.length);
  for (let i = 0; i < values.length; i++) out[i] = values[i];
  return out;
}

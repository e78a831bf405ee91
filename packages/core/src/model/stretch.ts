/** Numbers in one block of memory: few enough that a block is gone soon after the columns in it. */
const BLOCK = 8192;

let block = new Float64Array(0);
let used = 0;

/**
 * An array of zeros. Short ones are stretches of a common block: a model has hundreds of short columns, and the engine takes longer to
 * give each memory of its own than the sums over it take. Not for what leaves the core: a copy of it would carry the block along.
 */
export function stretch(length: number): Float64Array {
  if (length > BLOCK / 4) return new Float64Array(length);
  if (used + length > block.length) [block, used] = [new Float64Array(BLOCK), 0];
  const from = used;
  used += length;
  return block.subarray(from, used);
}

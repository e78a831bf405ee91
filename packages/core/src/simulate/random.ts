import { cos } from '../arithmetic/angle.ts';
import { log } from '../arithmetic/exponential.ts';

/** A stream of random numbers that its seed fixes for good. */
export interface RandomStream {
  /** Uniform, 0 < u < 1. */
  uniform(): number;
  /** Standard normal. */
  normal(): number;
}

/**
 * The xoshiro128** generator (D. Blackman, S. Vigna, ACM Trans. Math. Softw. 47 (2021) 36): 128 bits of state, 32 bits a step.
 * @param state four 32-bit words, not all 0; changed by each step
 */
export function xoshiro128(state: Uint32Array): () => number {
  return () => {
    const result = Math.imul(rotate(Math.imul(state[1], 5), 7), 9) >>> 0;
    const shifted = state[1] << 9;
    state[2] ^= state[0];
    state[3] ^= state[1];
    state[1] ^= state[2];
    state[0] ^= state[3];
    state[2] ^= shifted;
    state[3] = rotate(state[3], 11);
    return result;
  };
}

/**
 * A stream from a seed and the purpose it serves, so that two uses of one seed do not share numbers. The state is filled by
 * the 32-bit finaliser of MurmurHash3 (A. Appleby, public domain) over a counter.
 * @param seed any safe integer
 */
export function randomStream(seed: number, purpose: number): RandomStream {
  let counter = mix(mix(seed >>> 0) + Math.floor(seed / 2 ** 32)) + mix(purpose + 1);
  const state = Uint32Array.from({ length: 4 }, () => mix((counter += 0x9e3779b9)));
  if (state.every((word) => word === 0)) state[0] = 1;
  const next = xoshiro128(state);
  const uniform = (): number => (next() + 0.5) / 2 ** 32;
  return { uniform, normal: () => boxMuller(uniform(), uniform()) };
}

/** G.E.P. Box, M.E. Muller, Ann. Math. Stat. 29 (1958) 610. */
function boxMuller(u: number, v: number): number {
  return Math.sqrt(-2 * log(u)) * cos(2 * Math.PI * v);
}

function rotate(word: number, by: number): number {
  return (word << by) | (word >>> (32 - by));
}

function mix(word: number): number {
  let h = word >>> 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

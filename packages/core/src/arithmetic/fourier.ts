import FFT from 'fft.js';
import { cos, sin } from './angle.ts';

/** Complex numbers as two arrays of one length, a power of two. */
export interface Complex {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** Room for what goes into a transform of one size and what comes out, real and imaginary parts in turns; good until it is asked for again. */
export interface Workspace {
  readonly input: Float64Array;
  readonly output: Float64Array;
  /** Transforms the input into the output. */
  readonly forward: () => void;
  readonly backward: () => void;
}

/** The last ones by their size. */
const kept = new Map<number, Workspace>();
const MOST_KEPT = 4;

/**
 * Discrete Fourier transform, in place: Σ x_j exp(-2πi jk/n); the inverse Σ X_k exp(2πi jk/n) / n. The library adds and multiplies; the roots
 * of unity are put in, since those it takes from `Math` differ between engines.
 */
export function fourier({ re, im }: Complex, inverse = false): void {
  const n = re.length;
  const { input, output, forward, backward } = workspace(n);
  for (let k = 0; k < n; k++) {
    input[2 * k] = re[k];
    input[2 * k + 1] = im[k];
  }
  if (inverse) backward();
  else forward();
  for (let k = 0; k < n; k++) {
    re[k] = output[2 * k];
    im[k] = output[2 * k + 1];
  }
}

/** The least size of a transform, a power of two, that holds n values. */
export function sizeFor(n: number): number {
  let size = 2;
  while (size < n) size *= 2;
  return size;
}

/** @param n complex numbers in it, a power of two */
export function workspace(n: number): Workspace {
  const known = kept.get(n);
  if (known) return known;
  const transform = newTransform(n);
  const [input, output] = [new Float64Array(2 * n), new Float64Array(2 * n)];
  const made = {
    input,
    output,
    forward: () => transform.transform(output, input),
    backward: () => transform.inverseTransform(output, input),
  };
  if (kept.size >= MOST_KEPT) kept.delete(kept.keys().next().value!);
  kept.set(n, made);
  return made;
}

function newTransform(n: number): FFT {
  const made = new FFT(n);
  for (let k = 0; k < n; k++) {
    const angle = (2 * Math.PI * k) / n;
    made.table[2 * k] = cos(angle);
    made.table[2 * k + 1] = -sin(angle);
  }
  return made;
}

import FFT from 'fft.js';
import { cos, sin } from './angle.ts';

/** Complex numbers as two arrays of one length, a power of two. */
export interface Complex {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** A transform of one size, and room for what goes in and comes out, real and imaginary parts in turns. */
interface Kept {
  readonly transform: FFT;
  readonly input: Float64Array;
  readonly output: Float64Array;
}

/** The last transforms by their size. */
const kept = new Map<number, Kept>();
const MOST_KEPT = 4;

/**
 * Discrete Fourier transform, in place: Σ x_j exp(-2πi jk/n); the inverse Σ X_k exp(2πi jk/n) / n. The library adds and multiplies; the roots
 * of unity are put in, since those it takes from `Math` differ between engines.
 */
export function fourier({ re, im }: Complex, inverse = false): void {
  const n = re.length;
  const { transform, input, output } = ofSize(n);
  for (let k = 0; k < n; k++) {
    input[2 * k] = re[k];
    input[2 * k + 1] = im[k];
  }
  if (inverse) transform.inverseTransform(output, input);
  else transform.transform(output, input);
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

function ofSize(n: number): Kept {
  const known = kept.get(n);
  if (known) return known;
  const made = { transform: newTransform(n), input: new Float64Array(2 * n), output: new Float64Array(2 * n) };
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

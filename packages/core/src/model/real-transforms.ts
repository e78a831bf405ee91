import { workspace } from '../arithmetic/fourier.ts';
import type { Rack } from '../arithmetic/scratch.ts';

/** The first half of the transform of a real array of n values, and its middle: n / 2 + 1 numbers. The rest is their mirror image, conjugated. */
export interface Transform {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/**
 * Transforms of real arrays of one length, a power of two; two of them share one complex transform.
 * @param room has what is given back, here and in all of this file
 */
export function transforms(values: readonly Float64Array[], room: Rack): Transform[] {
  const out: Transform[] = [];
  for (let v = 0; v < values.length; v += 2) {
    const n = values[v].length;
    transformed(values[v], v + 1 < values.length ? values[v + 1] : null);
    const first = blank(n / 2 + 1, room);
    takeFirst(first, n);
    out.push(first);
    if (v + 1 === values.length) break;
    const second = blank(n / 2 + 1, room);
    takeSecond(second, n);
    out.push(second);
  }
  return out;
}

/** Leaves in the workspace the transform of one real array as the real part and another, or none, as the imaginary one. */
function transformed(first: Float64Array, second: Float64Array | null): void {
  const n = first.length;
  const { input, forward } = workspace(n);
  for (let k = 0; k < n; k++) {
    input[2 * k] = first[k];
    input[2 * k + 1] = second ? second[k] : 0;
  }
  forward();
}

/** What k and its mirror image have in common is the first array's ... */
function takeFirst({ re, im }: Transform, n: number): void {
  const { output } = workspace(n);
  for (let k = 0; k <= n / 2; k++) {
    const m = (n - k) % n;
    re[k] = 0.5 * (output[2 * k] + output[2 * m]);
    im[k] = 0.5 * (output[2 * k + 1] - output[2 * m + 1]);
  }
}

/** ... and how they differ the second's. */
function takeSecond({ re, im }: Transform, n: number): void {
  const { output } = workspace(n);
  for (let k = 0; k <= n / 2; k++) {
    const m = (n - k) % n;
    re[k] = 0.5 * (output[2 * k + 1] + output[2 * m + 1]);
    im[k] = 0.5 * (output[2 * m] - output[2 * k]);
  }
}

/** Real arrays of n values from their transforms, again two at a time. */
export function inverses(of: readonly Transform[], n: number, room: Rack): Float64Array[] {
  const out: Float64Array[] = [];
  for (let v = 0; v < of.length; v += 2) {
    backTransformed(of[v], v + 1 < of.length ? of[v + 1] : null, n);
    out.push(taken(n, 0, room));
    if (v + 1 < of.length) out.push(taken(n, 1, room));
  }
  return out;
}

/** Leaves in the workspace the array of one transform as real parts, that of another as imaginary ones. */
function backTransformed({ re, im }: Transform, second: Transform | null, n: number): void {
  const { input, backward } = workspace(n);
  for (let k = 0; k <= n / 2; k++) {
    const x = second ? second.re[k] : 0;
    const y = second ? second.im[k] : 0;
    input[2 * k] = re[k] - y;
    input[2 * k + 1] = im[k] + x;
    if (k === 0 || k === n / 2) continue;
    input[2 * (n - k)] = re[k] + y;
    input[2 * (n - k) + 1] = x - im[k];
  }
  backward();
}

/** @param part 0 for real parts, 1 for imaginary ones */
function taken(n: number, part: number, room: Rack): Float64Array {
  const { output } = workspace(n);
  const values = room.of(n);
  for (let k = 0; k < n; k++) values[k] = output[2 * k + part];
  return values;
}

export function product(a: Transform, b: Transform, room: Rack): Transform {
  const { re, im } = blank(a.re.length, room);
  for (let k = 0; k < re.length; k++) {
    re[k] = a.re[k] * b.re[k] - a.im[k] * b.im[k];
    im[k] = a.re[k] * b.im[k] + a.im[k] * b.re[k];
  }
  return { re, im };
}

/** 2 a - b. */
export function twiceLess(a: Transform, b: Transform, room: Rack): Transform {
  const { re, im } = blank(a.re.length, room);
  for (let k = 0; k < re.length; k++) {
    re[k] = 2 * a.re[k] - b.re[k];
    im[k] = 2 * a.im[k] - b.im[k];
  }
  return { re, im };
}

const blank = (length: number, room: Rack): Transform => ({ re: room.of(length), im: room.of(length) });

import { workspace } from '../arithmetic/fourier.ts';

/** The first half of the transform of a real array of n values, and its middle: n / 2 + 1 numbers. The rest is their mirror image, conjugated. */
export interface Transform {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** Transforms of real arrays of one length, a power of two; two of them share one complex transform. */
export function transforms(values: readonly Float64Array[]): Transform[] {
  const out: Transform[] = [];
  for (let v = 0; v < values.length; v += 2) {
    const first = values[v];
    const second = v + 1 < values.length ? values[v + 1] : null;
    const n = first.length;
    const { input, output, forward } = workspace(n);
    for (let k = 0; k < n; k++) {
      input[2 * k] = first[k];
      input[2 * k + 1] = second ? second[k] : 0;
    }
    forward();
    const [a, b] = [blank(n / 2 + 1), second && blank(n / 2 + 1)];
    for (let k = 0; k <= n / 2; k++) {
      // What k and its mirror image have in common is the first array's, how they differ the second's.
      const m = (n - k) % n;
      a.re[k] = 0.5 * (output[2 * k] + output[2 * m]);
      a.im[k] = 0.5 * (output[2 * k + 1] - output[2 * m + 1]);
      if (!b) continue;
      b.re[k] = 0.5 * (output[2 * k + 1] + output[2 * m + 1]);
      b.im[k] = 0.5 * (output[2 * m] - output[2 * k]);
    }
    out.push(a);
    if (b) out.push(b);
  }
  return out;
}

/** Real arrays of n values from their transforms, again two at a time. */
export function inverses(of: readonly Transform[], n: number): Float64Array[] {
  const out: Float64Array[] = [];
  for (let v = 0; v < of.length; v += 2) {
    const { re, im } = of[v];
    const second = v + 1 < of.length ? of[v + 1] : null;
    const { input, output, backward } = workspace(n);
    for (let k = 0; k <= n / 2; k++) {
      const [x, y] = second ? [second.re[k], second.im[k]] : [0, 0];
      input[2 * k] = re[k] - y;
      input[2 * k + 1] = im[k] + x;
      if (k === 0 || k === n / 2) continue;
      input[2 * (n - k)] = re[k] + y;
      input[2 * (n - k) + 1] = x - im[k];
    }
    backward();
    const [a, b] = [new Float64Array(n), second && new Float64Array(n)];
    for (let k = 0; k < n; k++) {
      a[k] = output[2 * k];
      if (b) b[k] = output[2 * k + 1];
    }
    out.push(a);
    if (b) out.push(b);
  }
  return out;
}

export function product(a: Transform, b: Transform): Transform {
  const out = blank(a.re.length);
  for (let k = 0; k < out.re.length; k++) {
    out.re[k] = a.re[k] * b.re[k] - a.im[k] * b.im[k];
    out.im[k] = a.re[k] * b.im[k] + a.im[k] * b.re[k];
  }
  return out;
}

/** 2 a - b. */
export function twiceLess(a: Transform, b: Transform): Transform {
  const out = blank(a.re.length);
  for (let k = 0; k < out.re.length; k++) {
    out.re[k] = 2 * a.re[k] - b.re[k];
    out.im[k] = 2 * a.im[k] - b.im[k];
  }
  return out;
}

const blank = (length: number): Transform => ({ re: new Float64Array(length), im: new Float64Array(length) });

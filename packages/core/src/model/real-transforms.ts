import { fourier, type Complex } from '../arithmetic/fourier.ts';

/** Transform of a real array. */
export type Transform = Complex;

/** Transforms of real arrays of one length, a power of two; two of them share one complex transform. The arrays are used up. */
export function transforms(values: readonly Float64Array[]): Transform[] {
  const out: Transform[] = [];
  for (let v = 0; v < values.length; v += 2) {
    const re = values[v];
    const n = re.length;
    const im = values[v + 1] ?? new Float64Array(n);
    fourier({ re, im });
    const [a, b] = [blank(n), blank(n)];
    for (let k = 0; k < n; k++) {
      // The transform of a real array is its own mirror image, conjugated.
      const m = (n - k) % n;
      a.re[k] = 0.5 * (re[k] + re[m]);
      a.im[k] = 0.5 * (im[k] - im[m]);
      b.re[k] = 0.5 * (im[k] + im[m]);
      b.im[k] = 0.5 * (re[m] - re[k]);
    }
    out.push(a, b);
  }
  return out.slice(0, values.length);
}

/** Real arrays from their transforms, again two at a time. */
export function inverses(of: readonly Transform[]): Float64Array[] {
  const out: Float64Array[] = [];
  for (let v = 0; v < of.length; v += 2) {
    const { re, im } = of[v];
    const second = of[v + 1];
    const both = { re: re.slice(), im: im.slice() };
    if (second) {
      for (let k = 0; k < re.length; k++) {
        both.re[k] -= second.im[k];
        both.im[k] += second.re[k];
      }
    }
    fourier(both, true);
    out.push(both.re, both.im);
  }
  return out.slice(0, of.length);
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

const blank = (n: number): Transform => ({ re: new Float64Array(n), im: new Float64Array(n) });

import { sumOver } from '../arithmetic/sum.ts';
import { fourier, sizeFor } from '../arithmetic/fourier.ts';
import { columnFrom, type Column } from './column.ts';

/**
 * Self-convolution of a spectrum on its energy axis: the shape of pile-up, where two photons arrive as one.
 * Scaled so that a coefficient of 1 would move every count once: Σ column = Σ counts (as far as the axis reaches).
 * @param model expected counts per channel without pile-up, length n; channels below `lo` are left out
 * @param zeroChannel the (fractional) channel of zero energy: a pair (i, j) lands at i + j − zeroChannel
 * Source: pile-up spectrum = τ (n ⊗ n), Poisson arrivals.
 */
export function selfConvolution(model: Float64Array, lo: number, zeroChannel: number): Float64Array {
  const n = model.length;
  const total = sumOver(model, lo);
  if (total === 0) return new Float64Array(n);
  const raw = squared(model, lo);
  // The sum channel is fractional: share each pair between the two channels next to it.
  const shift = Math.floor(-zeroChannel);
  const fraction = -zeroChannel - shift;
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++)
    out[i] = ((1 - fraction) * within(raw, i - shift) + fraction * within(raw, i - shift - 1)) / total;
  return out;
}

/** A value, 0 beyond both ends. */
const within = (values: Float64Array, i: number): number => (i >= 0 && i < values.length ? values[i] : 0);

/** Rounding noise of the transform, relative to the largest value: what is smaller is 0. */
const NOISE = 1e-12;

/** Σ m_i m_j over i + j = k, from channel lo up; length a power of 2, at least 2n. The imaginary part of (m + im)² is 2m². */
function squared(model: Float64Array, lo: number): Float64Array {
  const size = sizeFor(2 * model.length);
  const [re, im] = [new Float64Array(size), new Float64Array(size)];
  re.set(model.subarray(lo), lo);
  im.set(re);
  fourier({ re, im });
  for (let k = 0; k < size; k++) {
    const x = re[k];
    const y = im[k];
    re[k] = x * x - y * y;
    im[k] = 2 * x * y;
  }
  fourier({ re, im }, true);
  let largest = 0;
  for (let k = 0; k < size; k++) largest = Math.max(largest, Math.abs(im[k]));
  for (let k = 0; k < size; k++) im[k] = Math.abs(im[k]) > NOISE * largest ? im[k] / 2 : 0;
  return im;
}

/**
 * The flat shelf of incomplete charge collection: each count at energy E leaves its share spread evenly from 0 to E.
 * Scaled so that a coefficient of 1 would spread every count once.
 * @param model expected counts per channel, length n
 * Source: shelf term of the detector response (Hypermet family, see `detector/line-shape.ts`), summed over the spectrum.
 */
export function shelfColumn(model: Float64Array, lo: number, hi: number, zeroChannel: number): Column {
  const out = new Float64Array(model.length);
  let share = 0;
  for (let i = hi - 1; i >= lo; i--) {
    const reach = i - zeroChannel;
    if (reach > 1) share += model[i] / reach;
    out[i] = share;
  }
  return columnFrom(out, 0);
}

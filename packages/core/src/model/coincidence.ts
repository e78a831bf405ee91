import { columnOf, type Column } from './column.ts';

/**
 * Self-convolution of a spectrum on its energy axis: the shape of pile-up, where two photons arrive as one.
 * Scaled so that a coefficient of 1 would move every count once: Σ column = Σ counts (as far as the axis reaches).
 * @param model expected counts per channel without pile-up, length n; channels below `lo` are left out
 * @param zeroChannel the (fractional) channel of zero energy: a pair (i, j) lands at i + j − zeroChannel
 * Source: pile-up spectrum = τ (n ⊗ n), Poisson arrivals.
 */
export function selfConvolution(model: Float64Array, lo: number, zeroChannel: number): Float64Array {
  return convolution(model, model, lo, zeroChannel);
}

/** Pile-up of one part of the spectrum (`partner`) with all of it, scaled like {@link selfConvolution}. */
export function partnerColumn(partner: Float64Array, model: Float64Array, lo: number, zeroChannel: number): Column {
  const column = convolution(partner, model, lo, zeroChannel);
  return columnOf(column.map((value) => 2 * value));
}

function convolution(a: Float64Array, b: Float64Array, lo: number, zeroChannel: number): Float64Array {
  const n = a.length;
  const out = new Float64Array(n + 1);
  let total = 0;
  for (let i = lo; i < n; i++) total += b[i];
  if (total === 0) return out.subarray(0, n);
  // The sum channel is fractional: share each pair between the two channels next to it.
  const shift = Math.floor(-zeroChannel);
  const fraction = -zeroChannel - shift;
  const raw = new Float64Array(n);
  for (let i = lo; i < n; i++) {
    const ai = a[i] / total;
    if (ai < 1e-9) continue;
    const last = Math.min(n, n - i - shift);
    const from = Math.max(lo, -i - shift);
    for (let j = from; j < last; j++) raw[i + j + shift] += ai * b[j];
  }
  for (let i = 0; i < n; i++) {
    out[i] += (1 - fraction) * raw[i];
    out[i + 1] += fraction * raw[i];
  }
  return out.slice(0, n);
}

/**
 * The flat shelf of incomplete charge collection: each count at energy E leaves its share spread evenly from 0 to E.
 * Scaled so that a coefficient of 1 would spread every count once.
 * @param model expected counts per channel, length n
 * Source: shelf term of the detector response (Hypermet family, see detector notes), summed over the spectrum.
 */
export function shelfColumn(model: Float64Array, lo: number, hi: number, zeroChannel: number): Column {
  const out = new Float64Array(model.length);
  let share = 0;
  for (let i = hi - 1; i >= lo; i--) {
    const reach = i - zeroChannel;
    if (reach > 1) share += model[i] / reach;
    out[i] = share;
  }
  return columnOf(out);
}

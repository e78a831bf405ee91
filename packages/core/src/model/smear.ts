import { exp } from '../arithmetic/exponential.ts';
import { lineSigma, type Instrument } from './instrument.ts';
import { stretch } from '../arithmetic/stretch.ts';

/** Channels that share a kernel: the width changes by less than 1 % over them. */
const KERNEL_STEP = 8;

/** Gaussian of a width in channels, sampled and normalised to 1. */
function gaussianKernel(sigma: number, reachSigmas: number): Float64Array {
  const reach = Math.ceil(reachSigmas * sigma);
  const kernel = stretch(2 * reach + 1);
  for (let k = 0; k <= reach; k++) kernel[k] = kernel[2 * reach - k] = exp(-0.5 * ((k - reach) / sigma) ** 2);
  let total = 0;
  for (let k = 0; k < kernel.length; k++) total += kernel[k];
  for (let k = 0; k < kernel.length; k++) kernel[k] /= total;
  return kernel;
}

/** Smears values, one per energy, over the channels of an axis. */
export type Smear = (values: Float64Array) => Float64Array;

/**
 * Smears values at given energies over the channels of the axis by the detector's Gaussian.
 * @param energies eV, one per value, a channel apart   @param first channel of the first value   @param n channels of the axis
 * @param reachSigmas standard deviations up to which a value is smeared
 */
export function createSmear(
  instrument: Instrument,
  energies: Float64Array,
  first: number,
  n: number,
  reachSigmas: number,
): Smear {
  const { gainEv } = instrument.axis;
  const kernels: Float64Array[] = [];
  for (let k = 0; k < energies.length; k += KERNEL_STEP) {
    const middle = energies[Math.min(k + KERNEL_STEP / 2, energies.length - 1)];
    kernels.push(gaussianKernel(lineSigma(instrument, middle) / gainEv, reachSigmas));
  }
  return (values) => {
    const out = new Float64Array(n);
    for (let k = 0; k < values.length; k += KERNEL_STEP) {
      const kernel = kernels[k / KERNEL_STEP];
      addSmeared(out, values, k, kernel, first + k - (kernel.length - 1) / 2);
    }
    return out;
  };
}

/**
 * Adds eight values (what lies beyond the last is 0) from `k` on, smeared by one kernel, to the channels from `start` on: each channel gets
 * the sum of what all eight bring it.
 */
function addSmeared(out: Float64Array, values: Float64Array, k: number, kernel: Float64Array, start: number): void {
  const n = values.length;
  const v0 = values[k];
  const v1 = k + 1 < n ? values[k + 1] : 0;
  const v2 = k + 2 < n ? values[k + 2] : 0;
  const v3 = k + 3 < n ? values[k + 3] : 0;
  const v4 = k + 4 < n ? values[k + 4] : 0;
  const v5 = k + 5 < n ? values[k + 5] : 0;
  const v6 = k + 6 < n ? values[k + 6] : 0;
  const v7 = k + 7 < n ? values[k + 7] : 0;
  if (v0 === 0 && v1 === 0 && v2 === 0 && v3 === 0 && v4 === 0 && v5 === 0 && v6 === 0 && v7 === 0) return;
  let p1 = 0;
  let p2 = 0;
  let p3 = 0;
  let p4 = 0;
  let p5 = 0;
  let p6 = 0;
  let p7 = 0;
  const { length } = kernel;
  const end = Math.min(length + KERNEL_STEP - 1, out.length - start);
  for (let t = 0; t < end; t++) {
    const p0 = t < length ? kernel[t] : 0;
    const sum = v0 * p0 + v1 * p1 + (v2 * p2 + v3 * p3) + (v4 * p4 + v5 * p5 + (v6 * p6 + v7 * p7));
    if (start + t >= 0) out[start + t] += sum;
    p7 = p6;
    p6 = p5;
    p5 = p4;
    p4 = p3;
    p3 = p2;
    p2 = p1;
    p1 = p0;
  }
}

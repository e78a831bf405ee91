import { exp } from '../arithmetic/exponential.ts';
import { lineResponse, type Instrument } from './instrument.ts';
import { stretch } from './stretch.ts';

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
    kernels.push(gaussianKernel(lineResponse(instrument, middle).sigmaEv / gainEv, reachSigmas));
  }
  return (values) => {
    const out = new Float64Array(n);
    for (let k = 0; k < values.length; k++) {
      const value = values[k];
      if (value === 0) continue;
      const kernel = kernels[Math.floor(k / KERNEL_STEP)];
      const start = first + k - (kernel.length - 1) / 2;
      const end = Math.min(kernel.length, n - start);
      for (let j = Math.max(0, -start); j < end; j++) out[start + j] += value * kernel[j];
    }
    return out;
  };
}

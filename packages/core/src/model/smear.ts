import { exp } from '../arithmetic/exponential.ts';
import { Scratch } from '../arithmetic/scratch.ts';
import { lineSigma, type Instrument } from './instrument.ts';

/** Channels that share a kernel: the width changes by less than 1 % over them. */
const KERNEL_STEP = 8;

/** The detector's Gaussian at the energies of an axis, to smear with. */
export interface Smear {
  /** Channel of the first value that is smeared. */
  readonly first: number;
  /** Channels of the axis. */
  readonly n: number;
  /** One after the other; kernel k from starts[k] to starts[k + 1]. */
  readonly kernels: Float64Array;
  readonly starts: Int32Array;
}

/**
 * What smears values at given energies over the channels of the axis.
 * @param energies eV, one per value, a channel apart   @param first channel of the first value   @param n channels of the axis
 * @param reachSigmas standard deviations up to which a value is smeared   @param room for its kernels, where it is used once
 */
export function createSmear(
  instrument: Instrument,
  energies: Float64Array,
  first: number,
  n: number,
  reachSigmas: number,
  room?: Scratch,
): Smear {
  const { gainEv } = instrument.axis;
  const count = Math.ceil(energies.length / KERNEL_STEP);
  const sigmas = SIGMAS.of(count);
  const starts = new Int32Array(count + 1);
  for (let k = 0; k < count; k++) {
    const middle = energies[Math.min(KERNEL_STEP * k + KERNEL_STEP / 2, energies.length - 1)];
    sigmas[k] = lineSigma(instrument, middle) / gainEv;
    starts[k + 1] = starts[k] + 2 * Math.ceil(reachSigmas * sigmas[k]) + 1;
  }
  const kernels = room ? room.of(starts[count]) : new Float64Array(starts[count]);
  for (let k = 0; k < count; k++) putGaussian(kernels, starts[k], starts[k + 1], sigmas[k]);
  return { first, n, kernels, starts };
}

const SIGMAS = new Scratch();

/** Puts a Gaussian of a width in channels into places [from, to), sampled and normalised to 1. */
function putGaussian(kernels: Float64Array, from: number, to: number, sigma: number): void {
  const reach = (to - from - 1) / 2;
  for (let k = 0; k <= reach; k++) kernels[from + k] = kernels[to - 1 - k] = exp(-0.5 * ((k - reach) / sigma) ** 2);
  let total = 0;
  for (let k = from; k < to; k++) total += kernels[k];
  for (let k = from; k < to; k++) kernels[k] /= total;
}

/** Values, one per energy, smeared over the channels of the axis. */
export function smeared({ first, n, kernels, starts }: Smear, values: Float64Array): Float64Array {
  const out = new Float64Array(n);
  for (let k = 0; KERNEL_STEP * k < values.length; k++) {
    const [from, length] = [starts[k], starts[k + 1] - starts[k]];
    addSmeared(out, values, KERNEL_STEP * k, kernels, from, length, first + KERNEL_STEP * k - (length - 1) / 2);
  }
  return out;
}

/**
 * Adds eight values (what lies beyond the last is 0) from `k` on, smeared by one kernel, to the channels from `start` on: each channel gets
 * the sum of what all eight bring it.
 */
function addSmeared(
  out: Float64Array,
  values: Float64Array,
  k: number,
  kernels: Float64Array,
  from: number,
  length: number,
  start: number,
): void {
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
  const end = Math.min(length + KERNEL_STEP - 1, out.length - start);
  for (let t = 0; t < end; t++) {
    const p0 = t < length ? kernels[from + t] : 0;
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

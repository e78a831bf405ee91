import type { EnergyAxis } from '../spectrum/spectrum.ts';

/** Where a thin window lets carbon to oxygen through and a thick one nothing, eV. */
const SOFT_FROM_EV = 420;
const SOFT_TO_EV = 640;
/** Shelf of incomplete charge collection, fraction of the counts (measured: 0.9 to 3.6 %). */
const SHELF_FRACTION = 0.02;
/** Soft counts up to this multiple of the shelf may be the shelf alone. */
const SHELF_MULTIPLE = 4;

/**
 * Whether the detector may sit behind a thick (beryllium) window: then nothing but the flat shelf of incomplete charge
 * collection is recorded around 0.5 keV. False where the axis does not reach there.
 */
export function mayHaveThickWindow(counts: Float64Array, axis: EnergyAxis): boolean {
  const channel = (energyEv: number): number => Math.round((energyEv - axis.offsetEv) / axis.gainEv);
  const from = channel(SOFT_FROM_EV);
  const to = channel(SOFT_TO_EV);
  if (from < 0 || to >= counts.length) return false;
  let soft = 0;
  for (let i = from; i < to; i++) soft += counts[i];
  let shelf = 0;
  for (let i = to; i < counts.length; i++) shelf += (SHELF_FRACTION * counts[i]) / (i - channel(0));
  return soft / (to - from) < SHELF_MULTIPLE * shelf + 1;
}

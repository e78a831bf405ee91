import type { EnergyAxis } from '../spectrum/spectrum.ts';

/** Moves a part of the counts of each channel evenly over all energies from 0 up to its own (incomplete charge). */
export function addShelf(counts: Float64Array, axis: EnergyAxis, part: number): Float64Array {
  const zero = Math.max(0, Math.round(-axis.offsetEv / axis.gainEv));
  const out = counts.map((value) => value * (1 - part));
  let level = 0;
  for (let i = counts.length - 1; i >= zero; i--) {
    level += (counts[i] * part) / (i - zero + 1);
    out[i] += level;
  }
  return out;
}

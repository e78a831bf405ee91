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

/**
 * Replaces pairs of counts by their sums: of N counts in the result, `part` N are sums of two drawn at random. Sums beyond
 * the axis are lost. Source: Poisson coincidences; the sum spectrum is the spectrum folded with itself.
 */
export function addPileUp(counts: Float64Array, axis: EnergyAxis, part: number): Float64Array {
  const total = counts.reduce((a, b) => a + b, 0);
  if (!(part > 0) || !(total > 0)) return counts;
  // Two energies at channels i and j sum to channel i + j + offset / gain, shared between its neighbours.
  const shift = axis.offsetEv / axis.gainEv;
  const whole = Math.floor(shift);
  const upper = shift - whole;
  const sums = new Float64Array(counts.length + 1);
  const scale = part / total;
  for (let i = 0; i < counts.length; i++) {
    const weight = counts[i] * scale;
    if (weight === 0) continue;
    const last = Math.min(counts.length, counts.length - i - whole);
    for (let j = Math.max(0, -i - whole); j < last; j++) sums[i + j + whole] += weight * counts[j];
  }
  return counts.map((value, i) => value * (1 - 2 * part) + sums[i] * (1 - upper) + (i > 0 ? sums[i - 1] * upper : 0));
}

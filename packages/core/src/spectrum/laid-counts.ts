import type { EnergyAxis } from './energy-axis.ts';

/**
 * Counts told on another axis: each channel's are shared out by overlap among the channels that it meets there, and what falls beyond them
 * is left out. Onto channels several times as wide few are shared, so that what these hold is a Poisson count still.
 * @param counts per channel of `axis`
 * @param onto the other axis, of n channels
 */
export function laidCounts(counts: Float64Array, axis: EnergyAxis, onto: EnergyAxis, n: number): Float64Array {
  const out = new Float64Array(n);
  const width = axis.gainEv / onto.gainEv;
  // Lower edge of channel 0 in channels of the other axis, whose own edges lie at whole numbers.
  const first = (axis.offsetEv - axis.gainEv / 2 - onto.offsetEv) / onto.gainEv + 0.5;
  for (let i = 0; i < counts.length; i++) {
    const from = first + i * width;
    const to = first + (i + 1) * width;
    if (from >= n) break;
    const last = Math.min(n, to);
    for (let c = Math.max(0, Math.floor(from)); c < last; c++)
      out[c] += counts[i] * ((Math.min(to, c + 1) - Math.max(from, c)) / width);
  }
  return out;
}

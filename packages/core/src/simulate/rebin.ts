import type { EnergyAxis } from '../spectrum/spectrum.ts';

/**
 * Counts shared out over the channels of another axis, each evenly over the energies of its channel; what lies beyond is lost. Channels
 * then hold parts of the same counts: they scatter less than Poisson counts, and neighbours together.
 * @param whole round to whole counts
 */
export function rebin(
  counts: Float64Array,
  from: EnergyAxis,
  to: EnergyAxis,
  channels: number,
  whole: boolean,
): Float64Array {
  const out = new Float64Array(channels);
  // Lower ends of channels, in channels of the new axis; each channel is `width` of them.
  const width = from.gainEv / to.gainEv;
  const first = (from.offsetEv - 0.5 * from.gainEv - to.offsetEv) / to.gainEv + 0.5;
  counts.forEach((count, i) => {
    const [low, high] = [first + i * width, first + (i + 1) * width];
    for (let k = Math.max(0, Math.floor(low)); k < Math.min(channels, high); k++)
      out[k] += (count * (Math.min(high, k + 1) - Math.max(low, k))) / width;
  });
  return whole ? out.map(Math.round) : out;
}

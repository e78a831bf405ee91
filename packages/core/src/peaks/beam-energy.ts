import type { EnergyAxis } from '../spectrum/spectrum.ts';

/** Width of the blocks in which the upper continuum is looked at, eV. */
const BLOCK_EV = 200;

/**
 * End of the continuum (Duane-Hunt limit), eV: where counts per block fall to the pile-up floor.
 * Null when the axis ends before the continuum does.
 * Source: the continuum ends at the beam energy (Duane & Hunt 1915); Kramers' form falls linearly to it.
 */
export function continuumEndEv(counts: Float64Array, axis: EnergyAxis): number | null {
  const perBlock = Math.max(1, Math.round(BLOCK_EV / axis.gainEv));
  const blocks = Math.floor(counts.length / perBlock);
  if (blocks < 8) return null;
  const sums = new Float64Array(blocks);
  for (let b = 0; b < blocks; b++) for (let i = 0; i < perBlock; i++) sums[b] += counts[b * perBlock + i];
  let total = 0;
  for (const sum of sums) total += sum;
  // Above the end there is nothing but pile-up: the level of the last blocks, if it is flat and low.
  const tail = sums.subarray(blocks - 3);
  const floor = (tail[0] + tail[1] + tail[2]) / 3;
  const floorLimit = Math.max(2, 1e-4 * total);
  if (floor > floorLimit) return null;
  let end = blocks - 1;
  while (end > 0 && sums[end] <= floor * 1.5 + 4 * Math.sqrt(floor + 1)) end--;
  if (end >= blocks - 3) return null;
  return extrapolatedEnd(sums, end, floor, axis, perBlock);
}

/** Straight line through the last blocks above the floor, weighted by energy, to its zero. */
function extrapolatedEnd(sums: Float64Array, end: number, floor: number, axis: EnergyAxis, perBlock: number): number {
  const centre = (b: number): number => axis.offsetEv + axis.gainEv * perBlock * (b + 0.5);
  const from = Math.max(1, end - 9);
  let s = 0;
  let sx = 0;
  let sy = 0;
  let sxx = 0;
  let sxy = 0;
  for (let b = from; b <= end; b++) {
    const x = centre(b);
    const y = Math.max(0, sums[b] - floor) * x;
    s++;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  }
  const slope = (s * sxy - sx * sy) / (s * sxx - sx * sx);
  const edge = centre(end) + (axis.gainEv * perBlock) / 2;
  if (!(slope < 0)) return edge;
  const zero = (sy / s - (slope * sx) / s) / -slope;
  return Math.min(Math.max(zero, edge), edge * 1.15);
}

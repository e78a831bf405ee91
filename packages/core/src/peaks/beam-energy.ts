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

/** A continuum is missed when this many counts should be there ... */
const EXPECTED_AT_LEAST = 60;
/** ... and no more than this part of them is. */
const FOUND_AT_MOST = 0.4;
/** An end within this part of the stated energy proves nothing: few counts are expected there. */
const END_WITHIN = 0.9;

/**
 * Energy with which the electrons really landed, eV, where the continuum ends well below the beam energy (a specimen that
 * charges slows them down); null where it does not. Counts above the end are foretold by Kramers' form from those below.
 * Source: Duane & Hunt 1915; the end of the continuum as a test for charging is common practice, no source.
 */
export function landingEnergyEv(counts: Float64Array, axis: EnergyAxis, beamEv: number): number | null {
  const end = continuumEndEv(counts, axis);
  if (end === null || end >= END_WITHIN * beamEv) return null;
  const kramers = (energyEv: number): number => Math.max(0, beamEv / energyEv - 1);
  const sums = (fromEv: number, toEv: number): { counted: number; foretold: number } => {
    const from = Math.max(0, Math.ceil((fromEv - axis.offsetEv) / axis.gainEv));
    const to = Math.min(counts.length, Math.ceil((toEv - axis.offsetEv) / axis.gainEv));
    let counted = 0;
    let foretold = 0;
    for (let i = from; i < to; i++) {
      counted += counts[i];
      foretold += kramers(axis.offsetEv + axis.gainEv * i);
    }
    return { counted, foretold };
  };
  // The lower of two stretches: one may hold a line.
  const levels = [sums(0.7 * end, 0.78 * end), sums(0.78 * end, 0.86 * end)].map(
    ({ counted, foretold }) => counted / foretold,
  );
  const above = sums(end, beamEv);
  const expected = Math.min(...levels) * above.foretold;
  return expected >= EXPECTED_AT_LEAST && above.counted <= FOUND_AT_MOST * expected ? end : null;
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

import { xMedian } from 'ml-spectra-processing';
import { sumOver } from '../arithmetic/sum.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';

/** Width of the blocks in which the upper continuum is looked at, eV. */
const BLOCK_EV = 200;

/** Blocks whose counts per possible pair tell the rate of sums, at the least. */
const SUM_WINDOW = 5;
/** Sums of one pair of lines may be more frequent than the rate by this factor. */
const SUM_EXCESS = 2.5;
/** Blocks below the end of a continuum that must stand out as well, together. */
const BELOW = 3;
/** Photons below this energy are noise, eV. */
const NOISE_EV = 150;
/** A rate of sums above this is none, per count. */
const MOST_SUMS = 0.05;

/**
 * End of the continuum (Duane-Hunt limit), eV: where counts per block fall to what sums of photons leave above it.
 * Null when the axis ends before the continuum does.
 * Source: the continuum ends at the beam energy (Duane & Hunt 1915); Kramers' form falls linearly to it.
 */
export function continuumEndEv(counts: Float64Array, axis: EnergyAxis): number | null {
  return upperEnd(counts, axis)?.endEv ?? null;
}

/** Where the continuum ends, eV, and by blocks of channels the counts per channel that are sums of photons, at most. */
interface UpperEnd {
  readonly endEv: number;
  readonly perBlock: number;
  readonly sums: Float64Array;
}

function upperEnd(counts: Float64Array, axis: EnergyAxis): UpperEnd | null {
  const perBlock = blockOf(axis);
  const sums = blocked(counts, perBlock);
  const blocks = sums.length;
  if (blocks < 8) return null;
  const total = sumOver(sums);
  const floor = (sums[blocks - 1] + sums[blocks - 2] + sums[blocks - 3]) / 3;
  // What lies highest must be low, sums only, or flat, counts that are no photons: a continuum would fall.
  const tail = sums.subarray(blocks - tailBlocks(sums));
  const flat = isFlat(tail) ? sumOver(tail) / tail.length : 0;
  if (floor > Math.max(2, 1e-4 * total) && flat === 0) return null;
  const photons = new Float64Array(blocks);
  for (let b = 0; b < blocks; b++) photons[b] = sums[b] - flat;
  const pairs = pairsOf(photons, axis, perBlock, total);
  const rate = sumRate(photons, pairs);
  const exceeds = (from: number, to: number): boolean => {
    let [counted, summed] = [0, 0];
    for (let b = Math.max(0, from); b <= to; b++) {
      counted += photons[b];
      summed += Math.max(floor - flat, rate * pairs[b]);
    }
    return counted > SUM_EXCESS * summed + 3.5 * Math.sqrt(summed + (to - from + 1) * (flat + 1));
  };
  let end = blocks - 1;
  // Three photons of one strong line make a peak without a continuum below it.
  while (end > 0 && !(exceeds(end, end) && exceeds(end - BELOW, end - 1))) end--;
  if (end >= blocks - 3) return null;
  const endEv = extrapolatedEnd(sums, end, floor, axis, perBlock);
  for (let b = 0; b < blocks; b++) pairs[b] = (rate * pairs[b]) / perBlock;
  return { endEv, perBlock, sums: pairs };
}

/** Blocks at the end that must be at one level: so many at the least, and this part of all at the most. */
const FLAT_BLOCKS = 8;
const FLAT_PART = 1 / 3;
/** Counts in them from which that can be told. */
const FLAT_FROM = 2400;
/** How far each may lie from their mean: relative, and in standard deviations. */
const FLAT_WITHIN = 0.05;
const FLAT_SIGMAS = 4;

/** Blocks at the end that hold enough counts to tell whether they are flat. */
function tailBlocks(sums: Float64Array): number {
  let counted = 0;
  for (let taken = 1; taken < sums.length * FLAT_PART; taken++) {
    counted += sums[sums.length - taken];
    if (taken >= FLAT_BLOCKS && counted >= FLAT_FROM) return taken;
  }
  return FLAT_BLOCKS;
}

/** Whether the last counts are at one level: neither a falling continuum nor one that lines stand on. */
function isFlat(tail: Float64Array): boolean {
  const half = Math.floor(tail.length / 2);
  const low = sumOver(tail, 0, half) / half;
  const high = sumOver(tail, half) / (tail.length - half);
  const level = (low + high) / 2;
  const within = FLAT_WITHIN * level + FLAT_SIGMAS * Math.sqrt(level);
  return (
    level * tail.length > FLAT_FROM &&
    Math.abs(low - high) < FLAT_WITHIN * high &&
    tail.every((value) => Math.abs(value - level) < within)
  );
}

const blockOf = (axis: EnergyAxis): number => Math.max(1, Math.round(BLOCK_EV / axis.gainEv));

/** Middle of a block, eV. */
const blockCentre = (axis: EnergyAxis, perBlock: number, b: number): number =>
  axis.offsetEv + axis.gainEv * perBlock * (b + 0.5);

function blocked(counts: Float64Array, perBlock: number): Float64Array {
  const sums = new Float64Array(Math.floor(counts.length / perBlock));
  for (let b = 0; b < sums.length; b++) for (let i = 0; i < perBlock; i++) sums[b] += counts[b * perBlock + i];
  return sums;
}

/** Sums of two photons per block, were every photon to meet another one. */
function pairsOf(sums: Float64Array, axis: EnergyAxis, perBlock: number, total: number): Float64Array {
  const width = axis.gainEv * perBlock;
  const out = new Float64Array(sums.length);
  const first = Math.max(0, Math.ceil((NOISE_EV - axis.offsetEv) / width));
  for (let i = first; i < sums.length; i++) {
    for (let j = i; j < sums.length; j++) {
      const at = (blockCentre(axis, perBlock, i) + blockCentre(axis, perBlock, j) - axis.offsetEv) / width - 0.5;
      const k = Math.floor(at);
      const ways = ((i === j ? 1 : 2) * sums[i] * sums[j]) / total;
      if (k + 1 >= sums.length) break;
      // Shared between the two blocks that its centre lies between.
      out[k] += ways * (k + 1 - at);
      out[k + 1] += ways * (at - k);
    }
  }
  return out;
}

/** Rate of sums: no more than where the counts are fewest beside the pairs that could meet, in a window or in all from a block up. */
function sumRate(sums: Float64Array, pairs: Float64Array): number {
  // Two standard deviations above what was counted.
  const atMost = (counted: number, possible: number): number =>
    possible > 0 ? (Math.max(0, counted) + 2 * Math.sqrt(Math.abs(counted) + 1)) / possible : MOST_SUMS;
  let least = MOST_SUMS;
  let [countedAbove, possibleAbove] = [0, 0];
  for (let b = sums.length - 1; b >= 0; b--) {
    countedAbove += sums[b];
    possibleAbove += pairs[b];
    let [counted, possible] = [0, 0];
    for (let i = b; i < Math.min(b + SUM_WINDOW, sums.length); i++) {
      counted += sums[i];
      possible += pairs[i];
    }
    least = Math.min(least, atMost(counted, possible), atMost(countedAbove, possibleAbove));
  }
  return least;
}

/** Part of the axis whose continuum is prolonged, at its upper end. */
const PROLONGED = 0.35;
/** The continuum is not prolonged further than this, relative to the end of the axis. */
const AT_MOST = 1.5;

/**
 * Where the continuum would end beyond the axis, eV: its counts times energy fall on a straight line (Kramers), found by the median of
 * slopes, which lines do not bend. Null where it goes on too far to tell.
 * Source: H.A. Kramers, Phil. Mag. 46 (1923) 836; median of slopes: H. Theil 1950, P.K. Sen, J. Am. Stat. Assoc. 63 (1968) 1379.
 */
export function prolongedEndEv(counts: Float64Array, axis: EnergyAxis): number | null {
  const perBlock = blockOf(axis);
  const sums = blocked(counts, perBlock);
  const centre = (b: number): number => blockCentre(axis, perBlock, b);
  const from = Math.ceil(sums.length * (1 - PROLONGED));
  const points = Array.from(sums.subarray(from), (sum, k) => ({ x: centre(from + k), y: sum * centre(from + k) }));
  if (points.length < 6) return null;
  const slopes = points.flatMap((p, i) => points.slice(i + 1).map((q) => (q.y - p.y) / (q.x - p.x)));
  const slope = xMedian(slopes, { exact: true });
  if (!(slope < 0)) return null;
  const ends = points.map(({ x, y }) => x - y / slope);
  const end = xMedian(ends, { exact: true });
  const axisEnd = axis.offsetEv + axis.gainEv * counts.length;
  return end < AT_MOST * axisEnd ? Math.max(end, axisEnd) : null;
}

/** A continuum is missed when this many counts should be there ... */
const EXPECTED_AT_LEAST = 150;
/** ... and no more than this part of them is. */
const FOUND_AT_MOST = 0.4;
/** An end within this part of the stated energy proves nothing: few counts are expected there. */
const END_WITHIN = 0.9;

/**
 * Energy with which the electrons really landed, eV, where the continuum ends well below the beam energy (a specimen that
 * charges slows them down); null where it does not. Counts above the end, less sums of photons, are foretold by Kramers' form from those below.
 * Source: Duane & Hunt 1915; the end of the continuum as a test for charging is common practice, no source.
 */
export function landingEnergyEv(counts: Float64Array, axis: EnergyAxis, beamEv: number): number | null {
  const upper = upperEnd(counts, axis);
  if (upper === null || upper.endEv >= END_WITHIN * beamEv) return null;
  const { endEv: end, perBlock, sums: piledUp } = upper;
  const sums = (fromEv: number, toEv: number): { counted: number; foretold: number } => {
    const from = Math.max(0, Math.ceil((fromEv - axis.offsetEv) / axis.gainEv));
    const to = Math.min(counts.length, Math.ceil((toEv - axis.offsetEv) / axis.gainEv));
    let counted = 0;
    let foretold = 0;
    for (let i = from; i < to; i++) {
      counted += counts[i] - piledUp[Math.min(piledUp.length - 1, Math.floor(i / perBlock))];
      foretold += Math.max(0, beamEv / (axis.offsetEv + axis.gainEv * i) - 1);
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
  const from = Math.max(1, end - 9);
  let s = 0;
  let sx = 0;
  let sy = 0;
  let sxx = 0;
  let sxy = 0;
  for (let b = from; b <= end; b++) {
    const x = blockCentre(axis, perBlock, b);
    const y = Math.max(0, sums[b] - floor) * x;
    s++;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  }
  const slope = (s * sxy - sx * sy) / (s * sxx - sx * sx);
  const edge = blockCentre(axis, perBlock, end) + (axis.gainEv * perBlock) / 2;
  if (!(slope < 0)) return edge;
  const zero = (sy / s - (slope * sx) / s) / -slope;
  return Math.min(Math.max(zero, edge), edge * 1.15);
}

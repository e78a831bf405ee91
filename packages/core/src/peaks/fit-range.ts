import type { EnergyAxis } from '../spectrum/spectrum.ts';

/** Channels [lo, hi) that the model is asked to explain, and what was recognised below them. */
export interface FitRange {
  readonly lo: number;
  readonly hi: number;
  /** The range starts behind what looks like a noise hump before a flat floor, as behind a thick detector window. */
  readonly behindHump: boolean;
}

/** Below this the electronic noise of the detector dominates, eV (seen in measured spectra of five instruments). */
const NOISE_EDGE_EV = 145;
/** The continuum's last few per cent below the end point are not described by the continuum formula. */
const END_POINT_FRACTION = 0.96;
/** A hump is noise when it lies below this energy, eV ... */
const HUMP_BELOW_EV = 260;
/** ... and below this fraction of the highest peak. */
const HUMP_FRACTION = 0.03;
/** Fewest channels worth a fit. */
const MIN_CHANNELS = 32;

/**
 * Settles the range: above the zero peak, the noise edge and any low-energy cut-off, below the end of the continuum.
 * @param counts per channel   @param beamEv beam energy, eV
 * @param humps whether a hump at the low end is taken for noise; of any height, where nothing else there can be a peak
 */
export function fitRange(
  counts: Float64Array,
  axis: EnergyAxis,
  beamEv: number,
  humps: boolean | 'of any height' = true,
): FitRange {
  const n = counts.length;
  const channel = (energyEv: number): number => Math.ceil((energyEv - axis.offsetEv) / axis.gainEv);
  let lo = Math.min(n, Math.max(0, channel(NOISE_EDGE_EV)));
  let firstCount = 0;
  while (firstCount < n && counts[firstCount] === 0) firstCount++;
  // A cut-off zeroes the channels below it and leaves a cut channel at its step.
  const cutOff = firstCount > 0 && axis.offsetEv + axis.gainEv * firstCount > 0;
  if (cutOff) {
    lo = Math.min(n, Math.max(lo, firstCount + 1));
    const over = Math.max(FLOOR_LEAST_CHANNELS, Math.round(FLOOR_EV / axis.gainEv));
    lo = Math.max(lo, afterThreshold(counts, lo, channel(THRESHOLD_BELOW_EV), over));
  }
  const highest = humps === 'of any height' ? Infinity : HUMP_FRACTION;
  const hump =
    cutOff && humps ? afterNoiseHump(counts, firstCount, channel(HUMP_BELOW_EV), channel(900), highest) : null;
  let hi = Math.min(n, channel(END_POINT_FRACTION * beamEv));
  while (hi > lo && counts[hi - 1] === 0 && counts[hi - 2] === 0) hi--;
  if (hi - lo < MIN_CHANNELS) hi = Math.min(n, lo + MIN_CHANNELS);
  return { lo: hump === null ? lo : Math.max(lo, hump), hi, behindHump: hump !== null };
}

/** A discriminator's threshold is looked for below this energy, eV: above it is no detector's noise. */
const THRESHOLD_BELOW_EV = 400;
/** Behind its threshold a discriminator lets through everything: the counts stay at one level over this, eV, and over some channels. */
const FLOOR_EV = 250;
const FLOOR_LEAST_CHANNELS = 8;

/**
 * First channel behind the slope of a discriminator's threshold: from next to nothing the counts rise to a flat floor. The slope
 * itself otherwise, as a rise that leads up to a peak is one.
 * @param over channels of the floor that are looked at
 */
function afterThreshold(counts: Float64Array, from: number, end: number, over: number): number {
  const level = (at: number): number => {
    const floor = counts.slice(at, at + over).sort();
    return floor[Math.floor(floor.length / 2)];
  };
  for (let i = from; i < Math.min(end, counts.length - 2 * over); i++) {
    const here = level(i);
    const isFlat = Math.abs(level(i + over) - here) < 3 * Math.sqrt(here + 1);
    // What rises above the level behind it is a peak, not a threshold.
    if (counts[i] > here + 4 * Math.sqrt(here + 1)) return from;
    if (counts[i] < here - 2 * Math.sqrt(here + 1)) continue;
    return isFlat && counts[from] < 0.2 * here ? i + 1 : from;
  }
  return from;
}

/** Floor behind a hump, relative to its top: at most this; more where nothing else there can be a peak. */
const LOW_FLOOR = 0.3;
const HIGH_FLOOR = 0.6;

/**
 * First channel of the flat floor behind a noise hump; null where there is no such hump.
 * @param fraction of the highest peak that the hump may reach
 */
function afterNoiseHump(
  counts: Float64Array,
  from: number,
  humpEnd: number,
  floorEnd: number,
  fraction: number,
): number | null {
  const n = counts.length;
  if (floorEnd >= n || humpEnd - from < 3) return null;
  let top = from;
  for (let i = from; i < humpEnd; i++) if (counts[i] > counts[top]) top = i;
  let highest = 0;
  for (let i = humpEnd; i < n; i++) highest = Math.max(highest, counts[i]);
  // What still rises at the end is the flank of a peak.
  if (counts[top] > fraction * highest || top === from || top === humpEnd - 1) return null;
  const floor = counts.slice(humpEnd, floorEnd).sort();
  const level = floor[Math.floor(floor.length / 4)];
  if (level > (fraction === Infinity ? HIGH_FLOOR : LOW_FLOOR) * counts[top]) return null;
  let end = top;
  while (end < floorEnd && counts[end] > level + 2 * Math.sqrt(level + 1)) end++;
  return end < floorEnd ? end + 1 : null;
}

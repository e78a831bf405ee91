import type { StatedInstrument } from '../fit/instrument-prior.ts';
import { instrumentPrior } from '../fit/instrument-prior.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';
import type { RoundStart } from './round.ts';
import type { Frame } from './state.ts';

/**
 * Width up to which neighbouring channels are merged while a spectrum is settled, eV: half the narrowest lines' FWHM. Counts of
 * channels add, and so does what is expected of them; the fits that decide have all channels.
 */
export const MERGED_EV = 31;

/** How many channels are merged into one. @param widthEv that it may have at most */
export const mergingOf = ({ gainEv }: EnergyAxis, widthEv: number): number => Math.max(1, Math.floor(widthEv / gainEv));

export function mergedAxis({ offsetEv, gainEv }: EnergyAxis, by: number): EnergyAxis {
  return { offsetEv: offsetEv + (gainEv * (by - 1)) / 2, gainEv: gainEv * by };
}

/** The axis of single channels. */
export function partedAxis({ offsetEv, gainEv }: EnergyAxis, by: number): EnergyAxis {
  return { offsetEv: offsetEv - (gainEv * (1 - 1 / by)) / 2, gainEv: gainEv / by };
}

export const mergedStated = (stated: StatedInstrument, by: number): StatedInstrument => ({
  ...stated,
  axis: mergedAxis(stated.axis, by),
});

/** The frame of merged channels: those wholly inside the range of the single ones. */
export function mergedFrame(frame: Frame, by: number): Frame {
  if (by === 1) return frame;
  const { counts, range } = frame;
  const merged = new Float64Array(Math.floor(counts.length / by));
  for (let i = 0; i < merged.length * by; i++) merged[Math.floor(i / by)] += counts[i];
  return {
    ...frame,
    counts: merged,
    range: { ...range, lo: Math.ceil(range.lo / by), hi: Math.floor(range.hi / by) },
  };
}

/**
 * A start for single channels from one for merged channels.
 * @param merged @param whole the frames of both   @param stated the instrument of single channels as stated
 */
export function partedStart(
  start: RoundStart,
  merged: Frame,
  whole: Frame,
  stated: StatedInstrument,
  by: number,
): RoundStart {
  if (by === 1) return start;
  const { axis, detector } = start.instrument;
  const instrument = { detector, axis: partedAxis(axis, by) };
  const parted = (values: Float64Array): Float64Array => partedCounts(values, merged, whole, by);
  return {
    ...start,
    instrument,
    prior: instrumentPrior(stated, instrument),
    model: parted(start.model),
    background: start.background && parted(start.background),
    // The continuum is told per eV, so its level holds the width of a channel.
    backgroundLevel: start.backgroundLevel / by,
  };
}

/** Least part of its even share that a channel gets where the counts fall steeply. */
const LEAST_SHARE = 0.25;

/** Counts of merged channels shared out among their single ones, by the slope between their neighbours. */
function partedCounts(
  values: Float64Array,
  { range }: Frame,
  { counts, range: { lo, hi } }: Frame,
  by: number,
): Float64Array {
  const out = new Float64Array(counts.length);
  const last = range.hi - 1;
  const at = (c: number): number => values[Math.min(last, Math.max(range.lo, c))];
  for (let i = lo; i < hi; i++) {
    const c = Math.floor(i / by);
    const place = (i - c * by + 0.5) / by - 0.5;
    const even = at(c);
    out[i] = Math.max(LEAST_SHARE * even, even + (place * (at(c + 1) - at(c - 1))) / 2) / by;
  }
  return out;
}

import type { LimnerRecord, Reading } from '@limner/core';

/** Points of a sketch: enough for a picture of a page's width. */
const POINTS = 400;

/** A fitted spectrum in few points, for a picture: counts per channel, the mean of some neighbours each. */
export interface Sketch {
  /** Centre of the first point, and from one to the next. */
  readonly firstEv: number;
  readonly stepEv: number;
  readonly counts: readonly number[];
  readonly fit: readonly number[];
  readonly background: readonly number[];
}

/** The part of a reading's curves where photons can be: up to the beam energy. */
export function sketchOf({ record, curves }: Pick<Reading, 'record' | 'curves'>): Sketch {
  const { energyEv } = curves;
  const until = Math.max(record.axis.rangeEv[1], 1000 * record.conditions.beamKev.value);
  const from = energyEv.findIndex((ev) => ev >= 0);
  const last = energyEv.findLastIndex((ev) => ev <= until);
  const every = Math.max(1, Math.ceil((last - from + 1) / POINTS));
  const points = Math.floor((last - from + 1) / every);
  const meansOf = (curve: Float64Array): number[] =>
    Array.from({ length: points }, (_, i) => mean(curve.subarray(from + i * every, from + (i + 1) * every)));
  const [first, end] = [energyEv[from] ?? 0, energyEv[last] ?? 0];
  const gainEv = (end - first) / Math.max(1, last - from);
  return {
    firstEv: tenth(first + ((every - 1) / 2) * gainEv),
    stepEv: every * gainEv,
    counts: meansOf(curves.counts),
    fit: meansOf(curves.total),
    background: meansOf(curves.background),
  };
}

function mean(part: Float64Array | readonly number[]): number {
  let sum = 0;
  for (const value of part) sum += value;
  return tenth(sum / part.length);
}

/** A tenth of a count is finer than any line of a picture. */
const tenth = (value: number): number => Math.round(10 * value) / 10;

/** The same in half as many points. */
export function coarser({ firstEv, stepEv, counts, fit, background }: Sketch): Sketch {
  const halved = (curve: readonly number[]): number[] =>
    Array.from({ length: Math.floor(curve.length / 2) }, (_, i) => mean(curve.slice(2 * i, 2 * i + 2)));
  return {
    firstEv: firstEv + stepEv / 2,
    stepEv: 2 * stepEv,
    counts: halved(counts),
    fit: halved(fit),
    background: halved(background),
  };
}

/** A name for a peak of the sketch. */
export interface PeakName {
  readonly symbol: string;
  readonly energyEv: number;
  readonly open: boolean;
}

/** Lines of an element with at least this part of its strongest line's counts are named too. */
const NAMED_FROM = 0.15;
/** Lines of one element closer than this are one peak, or too close for two names. */
const APART_EV = 500;

/** The strong lines of all elements that are present or open, strongest first. */
export const peakNamesIn = ({ elements }: Pick<LimnerRecord, 'elements'>): PeakName[] =>
  elements
    .filter(({ verdict }) => verdict === 'present' || verdict === 'open')
    .flatMap(({ symbol, verdict, lines }) => {
      const most = Math.max(...lines.map(({ counts }) => counts));
      return lines
        .filter(({ counts }) => counts > 0 && counts >= NAMED_FROM * most)
        .sort((a, b) => b.counts - a.counts)
        .filter((line, i, all) => !all.slice(0, i).some((other) => Math.abs(other.energyEv - line.energyEv) < APART_EV))
        .map(({ energyEv, counts }) => ({ symbol, energyEv, counts, open: verdict === 'open' }));
    })
    .sort((a, b) => b.counts - a.counts)
    .map(({ symbol, energyEv, open }) => ({ symbol, energyEv, open }));

import { exp } from '../arithmetic/exponential.ts';
import { Scratch } from '../arithmetic/scratch.ts';
import { putCubicBasis } from './background.ts';
import { columnFrom, type Column } from './column.ts';
import { FWHM_PER_SIGMA } from '../detector/resolution.ts';
import { lineResponse, lineSigma, type Instrument } from './instrument.ts';
import { addGaussian, gaussianChannels } from './peak-shape.ts';
import { lifted, slate } from './slate.ts';
import { stretch } from '../arithmetic/stretch.ts';
import type { GroupTemplate } from './templates.ts';

/**
 * Discrepancy: what the model may be wrong by where no named cause is known. It is part of the likelihood, as narrow columns with a
 * Gaussian prior that grows with the counts, so that 10^8 counts know no more than the physics does.
 * Source of the idea: M.C. Kennedy, A. O'Hagan, J. R. Stat. Soc. B 63 (2001) 425. Sizes: measured spectra of known samples.
 */

/** Near a line group: relative to its height, from the top out to one FWHM; beyond it falls by e for each FWHM. */
export const PEAK_DISCREPANCY = { hard: 0.004, soft: 0.008, softBelowEv: 1000 } as const;
/** Groups with fewer counts are known better by the physics than by the counting. */
const MIN_GROUP_COUNTS = 3000;
/** Places of the columns around a group, in FWHM, and their width. */
const REACH_FWHM = 3;
const STEP_FWHM = 0.5;
const WIDTH_FWHM = 0.35;

/** A place near a line group where the model may be wrong; a coefficient of 1 is one standard uncertainty. */
export interface PeakDiscrepancy {
  readonly label: string;
  readonly column: Column;
}

/** Discrepancies of one group of an element of the explanation. @param amount its amount @param n channels */
export function peakDiscrepancies(
  { group, area, energyEv, column }: GroupTemplate,
  amount: number,
  instrument: Instrument,
  n: number,
): PeakDiscrepancy[] {
  const counts = area * amount;
  if (counts < MIN_GROUP_COUNTS || column.lo >= column.hi) return [];
  const { centreEv, sigmaEv } = lineResponse(instrument, energyEv);
  const fwhm = sigmaEv * FWHM_PER_SIGMA;
  const relative = energyEv < PEAK_DISCREPANCY.softBelowEv ? PEAK_DISCREPANCY.soft : PEAK_DISCREPANCY.hard;
  // A column of one standard uncertainty has this height: so has its area, narrower than the line by WIDTH_FWHM.
  const sizes = counts * relative * WIDTH_FWHM * FWHM_PER_SIGMA;
  const out: PeakDiscrepancy[] = [];
  for (let t = -REACH_FWHM; t <= REACH_FWHM; t += STEP_FWHM) {
    const values = slate(n);
    const area = sizes * exp(-Math.max(Math.abs(t) - 1, 0));
    const [centre, sigma] = [centreEv + t * fwhm, WIDTH_FWHM * fwhm];
    addGaussian(values, instrument.axis, centre, sigma, area);
    const [from, to] = gaussianChannels(instrument.axis, centre, sigma, n);
    out.push({ label: `${group.name} ${t}`, column: lifted(values, from, to + 1) });
  }
  return out;
}

/** How far a smooth part of the model may wiggle: its relative size, between places so many FWHM apart. */
export interface Wiggle {
  readonly relative: number;
  readonly stepFwhm: number;
}

export const CONTINUUM_DISCREPANCY: Wiggle = { relative: 0.015, stepFwhm: 2 };
/** Sum peaks: photons that overlap in part add to less than the full sum, how often depends on the pulse's shape. */
export const SUM_DISCREPANCY: Wiggle = { relative: 0.1, stepFwhm: 1 };

/**
 * Columns by which a part of the model may wiggle, cubic B-splines; a coefficient of 1 is one standard uncertainty.
 * @param part counts per channel
 */
export function wiggles(
  part: Float64Array,
  { relative, stepFwhm }: Wiggle,
  instrument: Instrument,
  lo: number,
  hi: number,
): Column[] {
  const positions = positionsAlong(instrument, stepFwhm, lo, hi);
  const end = positions.length;
  // The knot below each channel, and the four splines that meet there.
  const interval = INTERVAL.of(end);
  const basis = BASIS.of(4 * end);
  for (let i = 0; i < end; i++) {
    interval[i] = Math.floor(positions[i]);
    putCubicBasis(basis, 4 * i, positions[i] - interval[i]);
  }
  const columns: Column[] = [];
  // Channels, from the range's first on, that a column reaches over.
  let [from, to] = [0, 0];
  for (let place = 0; from < end; place++) {
    while (from < end && interval[from] < place - 3) from++;
    while (to < end && interval[to] <= place) to++;
    if (from >= to) continue;
    const values = stretch(to - from);
    for (let i = from; i < to; i++)
      values[i - from] = basis[4 * i + place - interval[i]] * (relative * Math.max(0, part[lo + i]));
    columns.push(columnFrom(values, lo + from));
  }
  return columns;
}

const [INTERVAL, BASIS] = [new Scratch(), new Scratch()];

/** Where the channels of a range lie among the knots of a spline, in knots from the first. */
interface Along {
  readonly stepFwhm: number;
  readonly lo: number;
  readonly positions: Float64Array;
}

const ALONG = new WeakMap<Instrument, Along[]>();

/** Kept as long as the instrument is: sets of elements tried in one place share it. */
function positionsAlong(instrument: Instrument, stepFwhm: number, lo: number, hi: number): Float64Array {
  const kept = ALONG.get(instrument) ?? [];
  ALONG.set(instrument, kept);
  const known = kept.find((one) => one.stepFwhm === stepFwhm && one.lo === lo && one.positions.length === hi - lo);
  if (known) return known.positions;
  const { offsetEv, gainEv } = instrument.axis;
  const positions = new Float64Array(Math.max(0, hi - lo));
  let position = 0;
  for (let i = 0; i < positions.length; i++) {
    positions[i] = position;
    const fwhm = lineSigma(instrument, offsetEv + gainEv * (lo + i)) * FWHM_PER_SIGMA;
    position += gainEv / (stepFwhm * fwhm);
  }
  kept.push({ stepFwhm, lo, positions });
  return positions;
}

import { LINE_TABLE } from '../atomic/lines.ts';
import { FWHM_PER_SIGMA } from '../detector/resolution.ts';
import { cholesky, solveCholesky } from '../fit/cholesky.ts';
import type { SpectrumFit } from '../fit/spectrum-fit.ts';
import { valueAt, type Column } from '../model/column.ts';
import { addGaussian } from '../model/peak-shape.ts';
import { lineResponse } from '../model/instrument.ts';
import { groupsOf } from '../model/groups.ts';
import { symbolOf } from '../atomic/elements.ts';
import type { Part } from './ledger.ts';
import type { Frame } from './state.ts';
import { LEAST_SIGMAS } from './thresholds.ts';

/**
 * A peak must stand: beside the evidence of the whole spectrum, at least one of an element's line groups must show as a peak of the
 * right place and width above a free local background and its neighbours' shapes, which may be wrong by more than the fit knows.
 * Sizes from trials on measured spectra.
 */

/** A line group as high as everything else at its place needs no further proof. */
const PLAIN = 1;
/** Least height of a peak relative to everything else at its place. */
const LEAST_RATIO = 0.02;
/** Window around a group, FWHM to each side. */
const WINDOW_FWHM = 2.5;
/** Neighbours may be stronger or weaker by this part, artefacts by that, and lie beside their place, eV. */
const NEIGHBOUR_SCALE = 0.05;
const ARTEFACT_SCALE = 0.2;
const NEIGHBOUR_SHIFT_EV = 1.5;
/** ... and bend by this part of their height, between places this far apart, FWHM. */
const NEIGHBOUR_BEND = 0.005;
const BEND_STEP_FWHM = 0.5;
const BEND_WIDTH_FWHM = 0.35;
/** Groups with a smaller share of the element's detected area are not looked at. */
const LEAST_SHARE = 0.02;

/** How well a line group stands as a peak. */
export interface StandingPeak {
  /** Height over everything else at its place. */
  readonly ratio: number;
  /** Standard deviations by which it stands out locally; infinite where it is plain. */
  readonly sigmas: number;
}

/** Whether a peak is as high as everything else at its place. */
export const isPlain = ({ ratio }: StandingPeak): boolean => ratio >= PLAIN;

/** Whether a peak stands by itself. */
function stands({ ratio, sigmas }: StandingPeak): boolean {
  return ratio >= PLAIN || (sigmas >= LEAST_SIGMAS && ratio >= LEAST_RATIO);
}

/**
 * A line group of the element that stands as a peak; null where none does.
 * @param parts of the fit, as in the ledger
 */
export function standingPeak(frame: Frame, fit: SpectrumFit, parts: readonly Part[], z: number): StandingPeak | null {
  const k = fit.zs.indexOf(z);
  const { instrument } = fit.at;
  const amount = fit.fit.coefficients[k];
  const own = fit.design.layout.templates[k].column;
  for (const { energyEv } of strongGroups(z, fit.design.areas)) {
    const { centreEv, sigmaEv } = lineResponse(instrument, energyEv);
    const centre = Math.round((centreEv - instrument.axis.offsetEv) / instrument.axis.gainEv);
    if (centre < frame.range.lo || centre >= frame.range.hi) continue;
    const height = amount * valueAt(own, centre);
    const ratio = height / Math.max(fit.fit.expected[centre] - height, 1e-9);
    const fwhm = sigmaEv * FWHM_PER_SIGMA;
    const local = (): Local => localAmount({ frame, fit, parts, own, amount, symbol: symbolOf(z), centreEv, fwhm });
    const peak = { ratio, sigmas: ratio >= PLAIN ? Infinity : sigmasOf(local()) };
    if (stands(peak)) return peak;
  }
  return null;
}

const sigmasOf = ({ amount, sigma }: Local): number => amount / sigma;

/**
 * The least amount of an element outside the explanation with which one of its line groups would stand in most cases.
 * @param own its shape, per unit amount   @param quantile standard deviations to spare
 * @param enough an amount that is asked for anyway: where less would stand, how much less is not worked out
 */
export function amountThatStands(
  frame: Frame,
  fit: SpectrumFit,
  parts: readonly Part[],
  z: number,
  areas: Float64Array,
  own: Column,
  quantile: number,
  enough: number,
): number {
  const { instrument } = fit.at;
  const groups = strongGroups(z, areas).flatMap(({ energyEv }) => {
    const { centreEv, sigmaEv } = lineResponse(instrument, energyEv);
    const centre = Math.round((centreEv - instrument.axis.offsetEv) / instrument.axis.gainEv);
    if (centre < frame.range.lo || centre >= frame.range.hi || !(valueAt(own, centre) > 0)) return [];
    const asHigh = Math.max(fit.fit.expected[centre], 1) / valueAt(own, centre);
    return [{ centreEv, fwhm: sigmaEv * FWHM_PER_SIGMA, asHigh }];
  });
  let least = groups.reduce((low, { asHigh }) => Math.min(low, PLAIN * asHigh), Infinity);
  for (const { centreEv, fwhm, asHigh } of groups) {
    if (least <= enough) return least;
    // It cannot stand with less than the least ratio, wherever its neighbours are.
    if (LEAST_RATIO * asHigh >= least) continue;
    const { sigma } = localAmount({ frame, fit, parts, own, amount: 0, symbol: symbolOf(z), centreEv, fwhm });
    least = Math.min(least, Math.max((LEAST_SIGMAS + quantile) * sigma, LEAST_RATIO * asHigh));
  }
  return least;
}

/** Line groups with a fair share of an element's detected area: mean energies, eV. */
function strongGroups(z: number, areas: Float64Array): { readonly energyEv: number }[] {
  const groups = groupsOf(z).map(({ lines }) => {
    const area = lines.reduce((sum, i) => sum + areas[i], 0);
    return { area, energyEv: lines.reduce((sum, i) => sum + areas[i] * LINE_TABLE.energyEv[i], 0) / area };
  });
  const total = groups.reduce((sum, { area }) => sum + area, 0);
  return groups.filter(({ area }) => area > LEAST_SHARE * total);
}

interface Window {
  readonly frame: Frame;
  readonly fit: SpectrumFit;
  readonly parts: readonly Part[];
  /** The element's own shape, per unit amount, and the amount of it that the fit holds. */
  readonly own: Column;
  readonly amount: number;
  readonly symbol: string;
  readonly centreEv: number;
  readonly fwhm: number;
}

/** A local amount with its standard deviation. */
interface Local {
  readonly amount: number;
  readonly sigma: number;
}

/** Local amount of the peak: weighted least squares of what the fit without it leaves. */
function localAmount(window: Window): Local {
  const { frame, fit, own, amount, centreEv, fwhm } = window;
  const { offsetEv, gainEv } = fit.at.instrument.axis;
  const from = Math.max(frame.range.lo, Math.ceil((centreEv - WINDOW_FWHM * fwhm - offsetEv) / gainEv));
  const to = Math.min(frame.range.hi, Math.floor((centreEv + WINDOW_FWHM * fwhm - offsetEv) / gainEv) + 1);
  const peak = Float64Array.from({ length: to - from }, (_, i) => valueAt(own, from + i));
  const columns = [peak, ...backgroundColumns(from, to), ...neighbourColumns(window, from, to)];
  const p = columns.length;
  const matrix = new Float64Array(p * p);
  const rhs = new Float64Array(p);
  for (let i = from; i < to; i++) {
    const expected = fit.fit.expected[i];
    const weight = 1 / Math.max(expected, 1);
    // What a model without the element's own lines leaves.
    const residual = frame.counts[i] - expected + amount * peak[i - from];
    for (let a = 0; a < p; a++) {
      const value = columns[a][i - from] * weight;
      if (value === 0) continue;
      rhs[a] += value * residual;
      for (let b = 0; b <= a; b++) matrix[a * p + b] += value * columns[b][i - from];
    }
  }
  for (let a = 0; a < p; a++) {
    // Peak and background are free, all others are in units of their standard uncertainty.
    matrix[a * p + a] += a < FREE ? 1e-9 * matrix[a * p + a] + 1e-30 : 1;
    for (let b = 0; b < a; b++) matrix[b * p + a] = matrix[a * p + b];
  }
  const factor = cholesky(matrix, p);
  const unit = new Float64Array(p);
  unit[0] = 1;
  solveCholesky(factor, p, unit);
  solveCholesky(factor, p, rhs);
  return { amount: rhs[0], sigma: Math.sqrt(unit[0]) };
}

/** The peak and three columns of the background have no prior. */
const FREE = 4;

function backgroundColumns(from: number, to: number): Float64Array[] {
  const x = Float64Array.from({ length: to - from }, (_, i) => (2 * i) / Math.max(1, to - from - 1) - 1);
  return [x.map(() => 1), x, x.map((value) => value * value)];
}

/** What the neighbours may do: stronger or weaker, beside their place, bent. One standard uncertainty each. */
function neighbourColumns({ fit, parts, symbol, fwhm }: Window, from: number, to: number): Float64Array[] {
  const { axis } = fit.at.instrument;
  const bent = new Float64Array(to - from);
  const columns: Float64Array[] = [];
  for (const { kind, name, counts } of parts) {
    if (kind === 'background' || name === symbol) continue;
    let highest = 0;
    for (let i = from; i < to; i++) if (counts[i] > highest) highest = counts[i];
    if (highest < Math.sqrt(fit.fit.expected[from])) continue;
    const here = counts.subarray(from, to);
    const scale = kind === 'element' ? NEIGHBOUR_SCALE : ARTEFACT_SCALE;
    columns.push(here.map((value) => scale * value));
    columns.push(here.map((_, i) => slopeAt(counts, from + i) * (NEIGHBOUR_SHIFT_EV / axis.gainEv)));
    here.forEach((value, i) => (bent[i] += Math.max(0, value)));
  }
  if (columns.length === 0) return columns;
  const start = axis.offsetEv + axis.gainEv * from;
  const end = axis.offsetEv + axis.gainEv * to;
  for (let energy = start; energy <= end; energy += BEND_STEP_FWHM * fwhm) {
    const bump = new Float64Array(to - from);
    const sigma = BEND_WIDTH_FWHM * fwhm;
    // A bump of height 1, times what is bent.
    addGaussian(
      bump,
      { offsetEv: start, gainEv: axis.gainEv },
      energy,
      sigma,
      (sigma * Math.sqrt(2 * Math.PI)) / axis.gainEv,
    );
    columns.push(bump.map((value, i) => value * NEIGHBOUR_BEND * bent[i]));
  }
  return columns;
}

/** Change of counts per channel when a shape moves up by one. */
const slopeAt = (counts: Float64Array, i: number): number => ((counts[i - 1] ?? 0) - (counts[i + 1] ?? 0)) / 2;

import { Scratch } from '../arithmetic/scratch.ts';
import { cholesky, solveCholesky } from '../fit/cholesky.ts';
import type { SpectrumFit } from '../fit/spectrum-fit.ts';
import { valueAt, type Column } from '../model/column.ts';
import { addGaussian } from '../model/peak-shape.ts';
import type { Part } from './ledger.ts';
import type { Frame } from './state.ts';
import { stretch } from '../arithmetic/stretch.ts';

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

/** Where a peak is looked at by itself. */
export interface Window {
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
export interface Local {
  readonly amount: number;
  readonly sigma: number;
}

/** The peak and three columns of the background have no prior. */
const FREE = 4;

/** Local amount of the peak: weighted least squares of what the fit without it leaves. */
export function localAmount(window: Window): Local {
  const { frame, fit, amount, centreEv, fwhm } = window;
  const { offsetEv, gainEv } = fit.at.instrument.axis;
  const from = Math.max(frame.range.lo, Math.ceil((centreEv - WINDOW_FWHM * fwhm - offsetEv) / gainEv));
  const to = Math.min(frame.range.hi, Math.floor((centreEv + WINDOW_FWHM * fwhm - offsetEv) / gainEv) + 1);
  const n = Math.max(0, to - from);
  const { columns, count: p } = columnsIn(window, from, n);
  const weights = WEIGHTS.of(n);
  const residuals = RESIDUALS.of(n);
  for (let i = 0; i < n; i++) {
    const expected = fit.fit.expected[from + i];
    weights[i] = 1 / Math.max(expected, 1);
    // What a model without the element's own lines leaves.
    residuals[i] = frame.counts[from + i] - expected + amount * columns[i];
  }
  const matrix = MATRIX.of(p * p);
  const rhs = stretch(p);
  addNormal(matrix, rhs, columns, weights, residuals);
  for (let a = 0; a < p; a++) {
    // Peak and background are free, all others are in units of their standard uncertainty.
    matrix[a * p + a] += a < FREE ? 1e-9 * matrix[a * p + a] + 1e-30 : 1;
    for (let b = 0; b < a; b++) matrix[b * p + a] = matrix[a * p + b];
  }
  const factor = cholesky(matrix, p, FACTOR.of(p * p));
  const unit = stretch(p);
  unit[0] = 1;
  solveCholesky(factor, p, unit);
  solveCholesky(factor, p, rhs);
  return { amount: rhs[0], sigma: Math.sqrt(unit[0]) };
}

/** Lower triangle of the weighted normal equations, four columns at a time. @param columns one after the other */
function addNormal(
  matrix: Float64Array,
  rhs: Float64Array,
  columns: Float64Array,
  weights: Float64Array,
  residuals: Float64Array,
): void {
  const [p, n] = [rhs.length, weights.length];
  const heavy = HEAVY.of(n);
  for (let a = 0; a < p; a++) {
    let product = 0;
    for (let i = 0; i < n; i++) {
      heavy[i] = columns[a * n + i] * weights[i];
      product += heavy[i] * residuals[i];
    }
    rhs[a] = product;
    for (let b = 0; b <= a; b += 4) {
      let s0 = 0;
      let s1 = 0;
      let s2 = 0;
      let s3 = 0;
      for (let i = 0, at = b * n; i < n; i++, at++) {
        const own = heavy[i];
        s0 += own * columns[at];
        s1 += own * columns[at + n];
        s2 += own * columns[at + 2 * n];
        s3 += own * columns[at + 3 * n];
      }
      // What lies beyond the diagonal is written over with its mirror image.
      const row = a * p + b;
      matrix[row] = s0;
      if (b + 1 <= a) matrix[row + 1] = s1;
      if (b + 2 <= a) matrix[row + 2] = s2;
      if (b + 3 <= a) matrix[row + 3] = s3;
    }
  }
}

// Hundreds of windows follow each other, and none is looked at inside another.
const [MATRIX, FACTOR] = [new Scratch(), new Scratch()];
const [WEIGHTS, RESIDUALS, HEAVY, BENT] = [new Scratch(), new Scratch(), new Scratch(), new Scratch()];

/** Room for the columns of a window. */
let room = new Float64Array(0);

/**
 * Columns of a window of n channels, one after the other: the peak, the background, and what the neighbours may do (stronger or weaker,
 * beside their place, bent), one standard uncertainty each.
 */
function columnsIn(
  window: Window,
  from: number,
  n: number,
): { readonly columns: Float64Array; readonly count: number } {
  const { own, parts, fwhm, fit } = window;
  const bends = Math.floor((n * fit.at.instrument.axis.gainEv) / (BEND_STEP_FWHM * fwhm)) + 2;
  // Sums over four columns may look at three more.
  const size = (FREE + 2 * parts.length + bends + 3) * n;
  if (room.length < size) room = new Float64Array(2 * size);
  for (let i = 0; i < n; i++) {
    const x = (2 * i) / Math.max(1, n - 1) - 1;
    room[i] = valueAt(own, from + i);
    room[n + i] = 1;
    room[2 * n + i] = x;
    room[3 * n + i] = x * x;
  }
  const { count, bent } = addNeighbours(window, from, n);
  return { columns: room, count: count === FREE ? count : addBends(window, from, count, bent) };
}

/** Each of them stronger or weaker, and beside its place. */
function addNeighbours({ fit, parts, symbol }: Window, from: number, n: number): { count: number; bent: Float64Array } {
  const shift = NEIGHBOUR_SHIFT_EV / fit.at.instrument.axis.gainEv;
  const bent = BENT.zeros(n);
  let count = FREE;
  for (const { kind, name, counts } of parts) {
    if (kind === 'background' || name === symbol) continue;
    let highest = 0;
    for (let i = from; i < from + n; i++) if (counts[i] > highest) highest = counts[i];
    if (highest < Math.sqrt(fit.fit.expected[from])) continue;
    const scale = kind === 'element' ? NEIGHBOUR_SCALE : ARTEFACT_SCALE;
    for (let i = 0; i < n; i++) {
      const here = counts[from + i];
      room[count * n + i] = scale * here;
      room[(count + 1) * n + i] = slopeAt(counts, from + i) * shift;
      bent[i] += Math.max(0, here);
    }
    count += 2;
  }
  return { count, bent };
}

/** All of them together bent, at one place after the other; how many columns there are then. */
function addBends({ fit, fwhm }: Window, from: number, count: number, bent: Float64Array): number {
  const { offsetEv, gainEv } = fit.at.instrument.axis;
  const n = bent.length;
  const start = offsetEv + gainEv * from;
  const end = offsetEv + gainEv * (from + n);
  const sigma = BEND_WIDTH_FWHM * fwhm;
  let last = count;
  for (let energy = start; energy <= end; energy += BEND_STEP_FWHM * fwhm, last++) {
    const bump = room.subarray(last * n, (last + 1) * n).fill(0);
    // A bump of height 1, times what is bent.
    const area = (sigma * Math.sqrt(2 * Math.PI)) / gainEv;
    addGaussian(bump, { offsetEv: start, gainEv }, energy, sigma, area);
    for (let i = 0; i < n; i++) bump[i] = bump[i] * NEIGHBOUR_BEND * bent[i];
  }
  return last;
}

/** Change of counts per channel when a shape moves up by one. */
const slopeAt = (counts: Float64Array, i: number): number => ((counts[i - 1] ?? 0) - (counts[i + 1] ?? 0)) / 2;

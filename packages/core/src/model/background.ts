import { log } from '../arithmetic/exponential.ts';
import type { Banded } from '../arithmetic/banded.ts';
import type { Column } from './column.ts';
import { lifted, slate } from './slate.ts';

/** Knot distance of the smooth factor in ln(energy): about five knots per factor of ten. */
export const KNOT_STEP = 0.5;
/** Prior standard deviation of the second difference of neighbouring spline coefficients, relative to their level. */
export const CURVATURE_SIGMA = 0.25;
/** The same below about 0.4 keV, where window, ice and noise edge are hardly known. */
export const SOFT_CURVATURE_SIGMA = 0.6;
const SOFT_STENCILS = 2;
/** Below is no continuum, and an axis on its way may put the first channels at no energy at all. */
const LOWEST_EV = 50;

/**
 * Background columns: the physical continuum times cubic B-splines in ln(energy), so that a coefficient of 1
 * everywhere is the physics' own shape.
 * @param continuum expected continuum counts per channel, length n (0 outside [lo, hi))
 * @param energyEv channel centres, length n
 */
export function backgroundColumns(continuum: Float64Array, energyEv: Float64Array, lo: number, hi: number): Column[] {
  const start = placeOf(energyEv[lo]);
  const intervals = Math.max(1, Math.ceil((placeOf(energyEv[hi - 1]) - start) / KNOT_STEP + 1e-9));
  const columns: Float64Array[] = [];
  while (columns.length < intervals + 3) columns.push(slate(continuum.length));
  const basis = new Float64Array(4);
  for (let i = lo; i < hi; i++) {
    const position = (placeOf(energyEv[i]) - start) / KNOT_STEP;
    const interval = Math.min(intervals - 1, Math.floor(position));
    putCubicBasis(basis, 0, position - interval);
    for (let k = 0; k < 4; k++) columns[interval + k][i] = basis[k] * continuum[i];
  }
  return columns.map((column) => lifted(column, lo, hi));
}

const placeOf = (energyEv: number): number => log(Math.max(LOWEST_EV, energyEv));

/** Puts the four uniform cubic B-splines at t in [0, 1] in a row; they sum to 1. Source: de Boor, A Practical Guide to Splines, 1978. */
export function putCubicBasis(out: Float64Array, at: number, t: number): void {
  const u = 1 - t;
  out[at] = (u * u * u) / 6;
  out[at + 1] = (3 * t * t * t - 6 * t * t + 4) / 6;
  out[at + 2] = (3 * u * u * u - 6 * u * u + 4) / 6;
  out[at + 3] = (t * t * t) / 6;
}

/**
 * Adds the smoothness prior to a precision matrix: second differences of the coefficients are 0 within
 * CURVATURE_SIGMA times the level.
 * @param precision changed; background coefficients sit at `at` .. `at + count − 1`
 * @param level typical size of the coefficients, > 0
 */
export function addSmoothness({ own, next, second }: Banded, at: number, count: number, level: number): void {
  for (let i = at; i + 2 < at + count; i++) {
    const weight = 1 / ((i - at < SOFT_STENCILS ? SOFT_CURVATURE_SIGMA : CURVATURE_SIGMA) * level) ** 2;
    // The products of 1, -2, 1 with each other.
    own[i] += weight;
    own[i + 1] += 4 * weight;
    own[i + 2] += weight;
    next[i] -= 2 * weight;
    next[i + 1] -= 2 * weight;
    second[i] += weight;
  }
  // A very wide bound on each coefficient, so that a spline without data stays finite.
  for (let i = at; i < at + count; i++) own[i] += 1 / (100 * level) ** 2;
}

import { log } from '../arithmetic/exponential.ts';
import { factorInto } from '../fit/cholesky.ts';
import type { Desk } from './desk.ts';

/*
 * Covariance V of the deviations from what is expected, as its factor L, V = L Lᵀ: counting with the covariance of the fit of the counts,
 * physics with what lines have in common, spread of the materials. What was not measured stands alone.
 */

/** Makes L and the variances of what stands alone, and L⁻¹ x of as many rows below it. */
export function whitened(desk: Desk, below: number): void {
  setCovariance(desk, true);
  const { rows } = desk.equations;
  factorInto(rows, rows, desk.joined, desk.joined + below);
}

function setCovariance(desk: Desk, withSpread: boolean): void {
  const { size, joined: m, physics2, counting, physics, state, equations } = desk;
  const { amounts, spread2, sigma2 } = state;
  const { rows, alone2 } = equations;
  for (let a = 0; a < m; a++) {
    const q = amounts[a];
    for (let b = 0; b < a; b++) rows[a * m + b] = counting[a * m + b] + q * amounts[b] * physics[a * m + b];
    rows[a * m + a] = sigma2[a] + q * q * (physics2[a] + (withSpread ? spread2[a] : 0));
  }
  for (let j = m; j < size; j++) {
    const doubt2 = physics2[j] + (withSpread ? spread2[j] : 0);
    alone2[j] = sigma2[j] === 0 ? 0 : sigma2[j] + doubt2 * amounts[j] * amounts[j];
  }
}

/** V⁻¹ d into `gap`. @param from where L⁻¹ d stands in the rows; of what stands alone, d is in `gap` */
export function weighed({ size, joined: m, equations: { rows, gap, alone2 } }: Desk, from: number): void {
  for (let a = m - 1; a >= 0; a--) {
    let sum = rows[from + a];
    for (let b = a + 1; b < m; b++) sum -= rows[b * m + a] * gap[b];
    gap[a] = sum / rows[a * m + a];
  }
  for (let j = m; j < size; j++) gap[j] = alone2[j] > 0 ? gap[j] / alone2[j] : 0;
}

/** The logarithm by which physics and spread move each amount, most likely: their covariance times q V⁻¹ d, of V⁻¹ d in `gap`, into `change`. */
export function moved({ size, joined: m, physics2, physics, state, equations: { gap, change } }: Desk): void {
  const { amounts, spread2 } = state;
  for (let j = 0; j < size; j++) {
    gap[j] *= amounts[j];
    change[j] = gap[j] * (physics2[j] + spread2[j]);
  }
  for (let a = 0; a < m; a++) {
    let sum = 0;
    for (let b = 0; b < a; b++) sum += physics[a * m + b] * gap[b];
    for (let b = a + 1; b < m; b++) sum += physics[a * m + b] * gap[b];
    change[a] += sum;
  }
}

/**
 * How much the spread of the materials widens what is expected: ln of the determinant of L, less that without spread. Only of what a
 * mixture is judged by: not of what others may hold as well. L is then the one without.
 */
export function lnWidening(desk: Desk): number {
  const { size, joined: m, atMost, equations } = desk;
  const { rows, alone2, change: wide } = equations;
  for (let a = 0; a < m; a++) wide[a] = rows[a * m + a];
  for (let j = m; j < size; j++) wide[j] = alone2[j];
  setCovariance(desk, false);
  factorInto(rows, rows, m);
  let [joint, alone] = [1, 1];
  for (let a = 0; a < m; a++) joint *= wide[a] / rows[a * m + a];
  for (let j = m; j < size; j++) if (alone2[j] > 0 && atMost[j] === 0) alone *= wide[j] / alone2[j];
  return log(joint) + log(alone) / 2;
}

import { log } from '../arithmetic/exponential.ts';
import { DESK } from './desk.ts';
import { backInto, eliminate } from './elimination.ts';

/*
 * Covariance V of the deviations from what is expected: counting with the covariance of the fit of the counts, physics with what lines
 * have in common, spread of the materials. What was not measured stands alone.
 */

/** Makes and eliminates V, with as many rows below it. */
export function weighCovariance(below: number): void {
  setCovariance(true);
  const { joined, equations } = DESK;
  eliminate(equations.rows, joined, joined + below, equations.inverses);
}

function setCovariance(withSpread: boolean): void {
  const { size, joined: m, physics2, counting, physics, state, equations } = DESK;
  const { amounts, spread2, sigma2 } = state;
  const { rows, inverses } = equations;
  for (let a = 0; a < m; a++) {
    const q = amounts[a];
    rows[a * m + a] = sigma2[a] + q * q * (physics2[a] + (withSpread ? spread2[a] : 0));
    for (let b = a + 1; b < m; b++) rows[a * m + b] = counting[a * m + b] + q * amounts[b] * physics[a * m + b];
  }
  for (let j = m; j < size; j++) {
    const q = amounts[j];
    inverses[j] = sigma2[j] === 0 ? 0 : 1 / (sigma2[j] + q * q * (physics2[j] + (withSpread ? spread2[j] : 0)));
  }
}

/** V⁻¹ d into `gap`: of what was measured from row `below`, of what stands alone from d in `gap`. */
export function weighGap(below: number): void {
  const { size, joined: m, equations } = DESK;
  const { rows, gap, inverses } = equations;
  backInto(gap, rows, m, below, inverses);
  for (let j = m; j < size; j++) gap[j] *= inverses[j];
}

/** The logarithm by which physics and spread move each amount, most likely: their covariance times q V⁻¹ d, of V⁻¹ d in `gap`, into `change`. */
export function moved(): void {
  const { size, joined: m, physics2, physics, state, equations } = DESK;
  const { gap, change } = equations;
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
 * How much the spread of the materials widens what is expected: half the ln of the determinant of V with it, less that without. Only of
 * what a mixture is judged by: not of what others may hold as well. What is left is V without.
 */
export function lnWidening(): number {
  const { size, joined: m, atMost, equations } = DESK;
  const { rows, inverses, change: wide } = equations;
  for (let j = 0; j < size; j++) wide[j] = inverses[j];
  setCovariance(false);
  eliminate(rows, m, m, inverses);
  let ratio = 1;
  for (let j = 0; j < size; j++) if (wide[j] > 0 && (j < m || atMost[j] === 0)) ratio *= inverses[j] / wide[j];
  return log(ratio) / 2;
}

import { exp, log } from '../arithmetic/exponential.ts';
import { DESK, STRIDE } from './desk.ts';
import { moved, weighCovariance, weighGap } from './deviations.ts';
import { backInto, eliminate } from './elimination.ts';

/** What any material may hold of any other element, mass fraction, one standard deviation. Chosen. */
export const IMPURITY = 0.003;

const DAMPING = 1e-3;
/** No logarithm moves farther in one step. */
const LONGEST_STEP = 1.5;
const LEAST_LN = log(1e-6);
/** A part of less than this that still falls is none. */
const GONE_LN = log(1e-4);

/** Starts a fit from these fractions. */
export function startFrom(fractions: ArrayLike<number>): void {
  const { k, ln } = DESK;
  for (let a = 0; a < k; a++) ln[a] = Math.max(LEAST_LN, log(fractions[a]));
}

/** What is expected at the desk's logarithms. */
export function setState(): void {
  const { k, size, value, counting2, atMost, holds, loose2, along, ln, u, state } = DESK;
  const { fractions, held, amounts, spread2, sigma2 } = state;
  for (let a = 0; a < k; a++) fractions[a] = exp(ln[a]);
  for (let j = 0; j < size; j++) {
    let sum = 0;
    let variance = 0;
    for (let a = 0, at = j; a < k; a++, at += STRIDE) {
      const own = fractions[a] * holds[at];
      sum += own;
      variance += own * own * loose2[at];
    }
    const q = u[j] === 0 ? sum : sum * exp(u[j]);
    held[j] = sum;
    amounts[j] = q;
    spread2[j] = variance > 0 ? variance / (sum * sum) : 0;
    sigma2[j] = atMost[j] === 1 && sum <= value[j] ? 0 : counting2[j];
    if (sigma2[j] === 0 || value[j] <= q) continue;
    // Something above what is held may be an impurity or a companion.
    let beside = 0;
    for (let a = 0, at = j; a < k; a++, at += STRIDE) beside += fractions[a] * along[at];
    sigma2[j] += IMPURITY * IMPURITY + beside * beside;
  }
}

/** The equations of the next step: derivatives by the logarithm of each fraction, against the gap from what is expected. */
export function setEquations(): void {
  const { k, size, joined: m, value, holds, u, state, equations } = DESK;
  const { fractions, held, amounts } = state;
  const { rows, slope, gap } = equations;
  for (let j = 0; j < size; j++) {
    const q = amounts[j];
    const off = value[j] - q + u[j] * q;
    const grown = held[j] > 0 ? q / held[j] : 0;
    for (let a = 0; a < k; a++) {
      const own = grown * fractions[a] * holds[a * STRIDE + j];
      if (j < m) rows[(m + a) * m + j] = own;
      else slope[a * STRIDE + j] = own;
    }
    if (j < m) rows[(m + k) * m + j] = off;
    else gap[j] = off;
  }
  weighCovariance(k + 1);
  setNormal();
}

/** The normal equations, with their right side below, damped. */
function setNormal(): void {
  const { k, size, joined: m, equations } = DESK;
  const { rows, slope, gap, inverses, normal, damped } = equations;
  for (let a = 0; a < k; a++) {
    const own = (m + a) * m;
    for (let b = a; b < k; b++) {
      const other = (m + b) * m;
      let sum = 0;
      for (let j = 0; j < m; j++) sum += rows[own + j] * rows[other + j] * inverses[j];
      for (let j = m; j < size; j++) sum += slope[a * STRIDE + j] * slope[b * STRIDE + j] * inverses[j];
      normal[a * k + b] = normal[b * k + a] = damped[a * k + b] = sum;
    }
    const right = (m + k) * m;
    let sum = 0;
    for (let j = 0; j < m; j++) sum += rows[own + j] * rows[right + j] * inverses[j];
    for (let j = m; j < size; j++) sum += slope[a * STRIDE + j] * gap[j] * inverses[j];
    damped[k * k + a] = sum;
    damped[a * k + a] += DAMPING * (1 + damped[a * k + a]);
  }
}

/** The step that the equations ask for, kept within bounds. @param fixed index of a part whose fraction stays; -1 for none */
export function askStep(fixed: number): void {
  const { k, size, joined: m, ln, u, equations } = DESK;
  const { rows, slope, gap, damped, pivots, move, change } = equations;
  if (fixed >= 0) hold(damped, k, fixed);
  eliminate(damped, k, k + 1, pivots);
  backInto(move, damped, k, k, pivots);
  for (let a = 0; a < k; a++) {
    move[a] = Math.max(LEAST_LN, ln[a] + bounded(move[a])) - ln[a];
    for (let j = 0; j < m; j++) rows[(m + k) * m + j] -= rows[(m + a) * m + j] * move[a];
    for (let j = m; j < size; j++) gap[j] -= slope[a * STRIDE + j] * move[a];
  }
  weighGap(m + k);
  moved();
  for (let j = 0; j < size; j++) change[j] = bounded(change[j] - u[j]);
}

/** Equations of k unknowns by which a fixed one does not move. */
function hold(damped: Float64Array, k: number, fixed: number): void {
  for (let a = 0; a < k; a++) damped[a * k + fixed] = damped[fixed * k + a] = a === fixed ? 1 : 0;
  damped[k * k + fixed] = 0;
}

const bounded = (step: number): number => Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, step));

/** Whether the step that is asked for leads back from where the last one led: the weights change with the way, and may go to and fro. */
export function turnsBack(): boolean {
  const { k, size, equations, last } = DESK;
  const { move, change } = equations;
  let along = 0;
  for (let a = 0; a < k; a++) along += move[a] * last.move[a];
  for (let j = 0; j < size; j++) along += change[j] * last.change[j];
  return along < 0;
}

/** Takes a part of the step that is asked for; the largest change of a logarithm that matters. */
export function takeStep(length: number): number {
  const { k, size, equations, ln, u, last } = DESK;
  const { move, change } = equations;
  let largest = 0;
  for (let a = 0; a < k; a++) {
    const step = length * move[a];
    last.move[a] = move[a];
    ln[a] += step;
    // How little there is of a part that goes does not matter.
    if (step > 0 || ln[a] > GONE_LN) largest = Math.max(largest, Math.abs(step));
  }
  for (let j = 0; j < size; j++) {
    const step = length * change[j];
    last.change[j] = change[j];
    u[j] += step;
    largest = Math.max(largest, Math.abs(step));
  }
  return largest;
}

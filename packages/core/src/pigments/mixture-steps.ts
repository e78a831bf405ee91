import { exp, log } from '../arithmetic/exponential.ts';
import type { Desk } from './desk.ts';
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
export function startFrom({ ln }: Desk, fractions: ArrayLike<number>): void {
  for (let a = 0; a < ln.length; a++) ln[a] = Math.max(LEAST_LN, log(fractions[a]));
}

/** What is expected at the desk's logarithms. */
export function setState({
  k,
  stride,
  size,
  value,
  counting2,
  atMost,
  holds,
  loose2,
  along,
  ln,
  u,
  state: { fractions, held, amounts, spread2, sigma2 },
}: Desk): void {
  for (let a = 0; a < k; a++) fractions[a] = exp(ln[a]);
  for (let j = 0; j < size; j++) {
    let sum = 0;
    let variance = 0;
    let beside = 0;
    for (let a = 0, at = j; a < k; a++, at += stride) {
      const own = fractions[a] * holds[at];
      sum += own;
      variance += own * own * loose2[at];
      beside += fractions[a] * along[at];
    }
    const q = u[j] === 0 ? sum : sum * exp(u[j]);
    held[j] = sum;
    amounts[j] = q;
    spread2[j] = variance > 0 ? variance / (sum * sum) : 0;
    // Something above what is held may be an impurity or a companion.
    const excess2 = value[j] > q ? IMPURITY * IMPURITY + beside * beside : 0;
    sigma2[j] = atMost[j] === 1 && sum <= value[j] ? 0 : counting2[j] + excess2;
  }
}

/** The equations of the next step: derivatives by the logarithm of each fraction, against the gap from what is expected. */
export function setEquations(desk: Desk): void {
  const { k, stride, size, joined: m, value, holds, u, state, equations } = desk;
  const { fractions, held, amounts } = state;
  const { rows, slope, gap } = equations;
  for (let j = 0; j < size; j++) {
    const q = amounts[j];
    const off = value[j] - q + u[j] * q;
    const grown = held[j] > 0 ? q / held[j] : 0;
    for (let a = 0; a < k; a++) {
      const own = grown * fractions[a] * holds[a * stride + j];
      if (j < m) rows[(m + a) * m + j] = own;
      else slope[a * stride + j] = own;
    }
    if (j < m) rows[(m + k) * m + j] = off;
    else gap[j] = off;
  }
  weighCovariance(desk, k + 1);
  setNormal(desk);
}

/** The normal equations, with their right side below, damped. */
function setNormal({ k, stride, size, joined: m, equations }: Desk): void {
  const { rows, slope, gap, inverses, normal, damped } = equations;
  for (let a = 0; a < k; a++) {
    for (let b = a; b <= k; b++) {
      let sum = 0;
      const [own, other] = [(m + a) * m, (m + b) * m];
      for (let j = 0; j < m; j++) sum += rows[own + j] * rows[other + j] * inverses[j];
      for (let j = m; j < size; j++)
        sum += slope[a * stride + j] * (b < k ? slope[b * stride + j] : gap[j]) * inverses[j];
      if (b === k) damped[k * k + a] = sum;
      else normal[a * k + b] = normal[b * k + a] = damped[a * k + b] = sum;
    }
    damped[a * k + a] += DAMPING * (1 + damped[a * k + a]);
  }
}

/** The step that the equations ask for, kept within bounds. @param fixed index of a part whose fraction stays; -1 for none */
export function askStep(desk: Desk, fixed: number): void {
  const { k, stride, size, joined: m, ln, u, equations } = desk;
  const { rows, slope, gap, damped, pivots, move, change } = equations;
  if (fixed >= 0) hold(damped, k, fixed);
  eliminate(damped, k, k + 1, pivots);
  backInto(move, damped, k, k, pivots);
  for (let a = 0; a < k; a++) {
    move[a] = Math.max(LEAST_LN, ln[a] + bounded(move[a])) - ln[a];
    for (let j = 0; j < m; j++) rows[(m + k) * m + j] -= rows[(m + a) * m + j] * move[a];
    for (let j = m; j < size; j++) gap[j] -= slope[a * stride + j] * move[a];
  }
  weighGap(desk, m + k);
  moved(desk);
  for (let j = 0; j < size; j++) change[j] = bounded(change[j] - u[j]);
}

/** Equations of k unknowns by which a fixed one does not move. */
function hold(damped: Float64Array, k: number, fixed: number): void {
  for (let a = 0; a < k; a++) damped[a * k + fixed] = damped[fixed * k + a] = a === fixed ? 1 : 0;
  damped[k * k + fixed] = 0;
}

const bounded = (step: number): number => Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, step));

/** Whether the step that is asked for leads back from where the last one led: the weights change with the way, and may go to and fro. */
export function turnsBack({ k, size, equations: { move, change }, last }: Desk): boolean {
  let along = 0;
  for (let a = 0; a < k; a++) along += move[a] * last.move[a];
  for (let j = 0; j < size; j++) along += change[j] * last.change[j];
  return along < 0;
}

/** Takes a part of the step that is asked for; the largest change of a logarithm that matters. */
export function takeStep({ k, size, equations: { move, change }, ln, u, last }: Desk, length: number): number {
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

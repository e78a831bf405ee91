import { exp, log } from '../arithmetic/exponential.ts';
import { type Desk } from './desk.ts';
import { moved, weighed, whitened } from './deviations.ts';

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
    spread2[j] = sum > 0 ? variance / (sum * sum) : 0;
    // Something above what is held may be an impurity or a companion.
    const excess2 = value[j] > q ? IMPURITY * IMPURITY + beside * beside : 0;
    sigma2[j] = atMost[j] === 1 && sum <= value[j] ? 0 : counting2[j] + excess2;
  }
}

/** The equations of the next step: the gap against what is expected, by the logarithm of each fraction. */
export function setEquations(desk: Desk): void {
  const { k, stride, size, joined: m, value, holds, u, state, equations } = desk;
  const { fractions, held, amounts } = state;
  const { rows, slope, gap, alone2, normal, right } = equations;
  for (let j = 0; j < size; j++) {
    const q = amounts[j];
    const off = value[j] - q + u[j] * q;
    const grown = held[j] > 0 ? q / held[j] : 0;
    if (j < m) {
      for (let a = 0; a < k; a++) rows[(m + a) * m + j] = grown * fractions[a] * holds[a * stride + j];
      rows[(m + k) * m + j] = off;
    } else {
      for (let a = 0; a < k; a++) slope[a * stride + j] = grown * fractions[a] * holds[a * stride + j];
      gap[j] = off;
    }
  }
  whitened(desk, k + 1);
  for (let a = 0; a < k; a++) {
    const own = (m + a) * m;
    right[a] = dot(rows, own, (m + k) * m, m);
    for (let b = 0; b <= a; b++) normal[a * k + b] = dot(rows, own, (m + b) * m, m);
  }
  for (let j = m; j < size; j++) {
    if (alone2[j] === 0) continue;
    for (let a = 0; a < k; a++) {
      const own = slope[a * stride + j] / alone2[j];
      if (own === 0) continue;
      right[a] += own * gap[j];
      for (let b = 0; b <= a; b++) normal[a * k + b] += own * slope[b * stride + j];
    }
  }
  for (let a = 0; a < k; a++) for (let b = 0; b < a; b++) normal[b * k + a] = normal[a * k + b];
}

function dot(x: Float64Array, from: number, other: number, length: number): number {
  let sum = 0;
  for (let j = 0; j < length; j++) sum += x[from + j] * x[other + j];
  return sum;
}

/** The step that the equations ask for, kept within bounds. @param fixed index of a part whose fraction stays; -1 for none */
export function askStep(desk: Desk, fixed: number): void {
  const { k, stride, size, joined: m, ln, u, equations } = desk;
  const { rows, slope, gap, move, change } = equations;
  solve(desk, fixed);
  for (let a = 0; a < k; a++) {
    move[a] = Math.max(LEAST_LN, ln[a] + bounded(move[a])) - ln[a];
    for (let j = 0; j < m; j++) rows[(m + k) * m + j] -= rows[(m + a) * m + j] * move[a];
    for (let j = m; j < size; j++) gap[j] -= slope[a * stride + j] * move[a];
  }
  weighed(desk, (m + k) * m);
  moved(desk);
  for (let j = 0; j < size; j++) change[j] = bounded(change[j] - u[j]);
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

/** Solves the damped normal equations of at most a few unknowns by elimination; a fixed one does not move. */
function solve({ k, equations: { normal, right, damped: a, move: x } }: Desk, fixed: number): void {
  for (let i = 0; i < k * k; i++) a[i] = normal[i];
  for (let i = 0; i < k; i++) {
    x[i] = right[i];
    a[i * k + i] = a[i * k + i] * (1 + DAMPING) + DAMPING;
  }
  if (fixed >= 0) {
    for (let i = 0; i < k; i++) a[i * k + fixed] = a[fixed * k + i] = i === fixed ? 1 : 0;
    x[fixed] = 0;
  }
  for (let p = 0; p < k; p++) {
    for (let r = p + 1; r < k; r++) {
      const factor = a[r * k + p] / a[p * k + p];
      for (let c = p; c < k; c++) a[r * k + c] -= factor * a[p * k + c];
      x[r] -= factor * x[p];
    }
  }
  for (let p = k - 1; p >= 0; p--) {
    for (let c = p + 1; c < k; c++) x[p] -= a[p * k + c] * x[c];
    x[p] /= a[p * k + p];
  }
}

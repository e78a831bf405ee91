import { exp, log } from '../arithmetic/exponential.ts';
import { Deviations, type Expected } from './deviations.ts';
import type { Evidence } from './evidence.ts';
import { type Figures, figuresOf, placesOf } from './figures.ts';
import type { Part } from './part.ts';

/** What any material may hold of any other element, mass fraction, one standard deviation. Chosen. */
export const IMPURITY = 0.003;

const DAMPING = 1e-3;

/** What fits of k parts reckon on, made once for an evidence: thousands of fits follow each other, and none reckons inside another. */
export interface Desk {
  readonly figures: Figures;
  /** Places that the amounts of the parts depend on; the others stay as they are. */
  at: Int32Array;
  readonly state: State;
  readonly equations: Equations;
  readonly deviations: Deviations;
  /** Logarithms of the fractions, and those by which physics and spread move what is expected of each element. */
  readonly ln: Float64Array;
  readonly u: Float64Array;
  /** What the step before asked for. */
  readonly last: Pick<Equations, 'move' | 'change'>;
}

const DESKS = new WeakMap<Evidence, Desk[]>();

/** A desk cleared for a fit of these parts. */
export function deskFor(evidence: Evidence, parts: readonly Part[]): Desk {
  const desks = DESKS.get(evidence) ?? [];
  DESKS.set(evidence, desks);
  const desk = (desks[parts.length] ??= emptyDesk(figuresOf(evidence), parts.length));
  desk.at = placesOf(desk.figures, parts);
  desk.u.fill(0);
  desk.equations.normal.fill(0);
  desk.last.move.fill(0);
  desk.last.change.fill(0);
  return desk;
}

function emptyDesk(figures: Figures, k: number): Desk {
  const n = figures.value.length;
  return {
    figures,
    at: figures.all,
    state: emptyState(n, k),
    equations: emptyEquations(n, k),
    deviations: new Deviations(figures),
    ln: new Float64Array(k),
    u: new Float64Array(n),
    last: { move: new Float64Array(k), change: new Float64Array(n) },
  };
}

/** The linear equations of one step, of independent rows of unit variance, and their normal equations. */
export interface Equations {
  /** Derivatives of what is expected of each element by the logarithm of each fraction; part by part. */
  readonly slope: Float64Array;
  readonly gap: Float64Array;
  readonly normal: Float64Array;
  readonly right: Float64Array;
  /** The same matrix, damped and eliminated. */
  readonly damped: Float64Array;
  /** The step that solves it: of the logarithms of the fractions, and of the factors u. */
  readonly move: Float64Array;
  readonly change: Float64Array;
}

function emptyEquations(n: number, k: number): Equations {
  return {
    slope: new Float64Array(k * n),
    gap: new Float64Array(n),
    normal: new Float64Array(k * k),
    right: new Float64Array(k),
    damped: new Float64Array(k * k),
    move: new Float64Array(k),
    change: new Float64Array(n),
  };
}

export function setEquations(
  { figures, at, state, equations: { slope, gap, normal, right }, deviations, u }: Desk,
  parts: readonly Part[],
): void {
  const { fractions, held, amounts: q } = state;
  const [n, k] = [gap.length, parts.length];
  deviations.set(state, at);
  for (let j = 0; j < at.length; j++) gap[at[j]] = figures.value[at[j]] - q[at[j]] + u[at[j]] * q[at[j]];
  for (let a = 0; a < k; a++) {
    const { holds, places } = parts[a];
    slope.fill(0, a * n, (a + 1) * n);
    for (let p = 0; p < places.length; p++) {
      const i = places[p];
      if (held[i] > 0) slope[a * n + i] = (q[i] / held[i]) * fractions[a] * holds[i];
    }
    deviations.whiten(slope, a * n);
  }
  deviations.whiten(gap);
  for (let a = 0; a < k; a++) {
    right[a] = dot(at, slope, a * n, gap, 0);
    for (let b = 0; b <= a; b++) normal[a * k + b] = normal[b * k + a] = dot(at, slope, a * n, slope, b * n);
  }
}

function dot(at: Int32Array, x: Float64Array, fromX: number, y: Float64Array, fromY: number): number {
  let sum = 0;
  for (let j = 0; j < at.length; j++) sum += x[fromX + at[j]] * y[fromY + at[j]];
  return sum;
}

/** No logarithm moves farther in one step. */
const LONGEST_STEP = 1.5;
const LEAST_LN = log(1e-6);
/** A part of less than this that still falls is none. */
const GONE_LN = log(1e-4);

/** Starts a fit from these fractions. */
export function startFrom({ ln }: Desk, fractions: ArrayLike<number>): void {
  for (let a = 0; a < ln.length; a++) ln[a] = Math.max(LEAST_LN, log(fractions[a]));
}

/** The step that the equations ask for, kept within bounds. @param fixed index of a part whose fraction stays; -1 for none */
export function askStep({ at, state, equations, deviations, ln, u }: Desk, fixed: number): void {
  const { slope, gap, move, change } = equations;
  const n = gap.length;
  solve(equations, move.length, fixed);
  for (let a = 0; a < move.length; a++) {
    move[a] = Math.max(LEAST_LN, ln[a] + bounded(move[a])) - ln[a];
    for (let j = 0; j < at.length; j++) gap[at[j]] -= slope[a * n + at[j]] * move[a];
  }
  deviations.unwhiten(gap);
  deviations.moved(state, gap, change);
  for (let j = 0; j < at.length; j++) change[at[j]] = bounded(change[at[j]] - u[at[j]]);
}

const bounded = (step: number): number => Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, step));

/** Whether the step that is asked for leads back from where the last one led: the weights change with the way, and may go to and fro. */
export function turnsBack({ at, equations: { move, change }, last }: Desk): boolean {
  let along = 0;
  for (let a = 0; a < move.length; a++) along += move[a] * last.move[a];
  for (let j = 0; j < at.length; j++) along += change[at[j]] * last.change[at[j]];
  return along < 0;
}

/** Takes a part of the step that is asked for; the largest change of a logarithm that matters. */
export function takeStep({ at, equations: { move, change }, ln, u, last }: Desk, length: number): number {
  let largest = 0;
  for (let a = 0; a < move.length; a++) {
    last.move[a] = move[a];
    ln[a] += length * move[a];
    // How little there is of a part that goes does not matter.
    if (move[a] > 0 || ln[a] > GONE_LN) largest = Math.max(largest, Math.abs(length * move[a]));
  }
  for (let j = 0; j < at.length; j++) {
    const i = at[j];
    last.change[i] = change[i];
    u[i] += length * change[i];
    largest = Math.max(largest, Math.abs(length * change[i]));
  }
  return largest;
}

/** What depends on the fractions, and what is expected with the physics at its most likely. */
export interface State extends Expected {
  readonly fractions: Float64Array;
  readonly held: Float64Array;
}

function emptyState(n: number, k: number): State {
  const empty = (): Float64Array => new Float64Array(n);
  return { fractions: new Float64Array(k), held: empty(), spread: empty(), amounts: empty(), sigma: empty() };
}

/** @param at places to work out; those that the parts' amounts depend on, if left out */
export function setState(desk: Desk, parts: readonly Part[], at = desk.at): void {
  const { figures, state, ln, u } = desk;
  const { value, counting, atMost } = figures;
  const { fractions, held, spread, amounts: q, sigma } = state;
  for (let m = 0; m < parts.length; m++) fractions[m] = exp(ln[m]);
  for (let j = 0; j < at.length; j++) {
    const i = at[j];
    let sum = 0;
    let variance = 0;
    let along = 0;
    for (let m = 0; m < parts.length; m++) {
      const own = fractions[m] * parts[m].holds[i];
      const loose = own * parts[m].loose[i];
      sum += own;
      variance += loose * loose;
      along += fractions[m] * parts[m].along[i];
    }
    held[i] = sum;
    spread[i] = sum > 0 ? Math.sqrt(variance) / sum : 0;
    q[i] = u[i] === 0 ? sum : sum * exp(u[i]);
    // Something above what is held may be an impurity or a companion.
    const excess = value[i] > q[i] ? IMPURITY * IMPURITY + along * along : 0;
    sigma[i] = atMost[i] && sum <= value[i] ? 0 : Math.sqrt(counting[i] * counting[i] + excess);
  }
}

/** Solves the damped normal equations of at most a few unknowns by elimination; a fixed one does not move. */
function solve({ normal, right, damped: a, move: x }: Equations, k: number, fixed: number): void {
  a.set(normal);
  x.set(right);
  for (let i = 0; i < k; i++) a[i * k + i] = a[i * k + i] * (1 + DAMPING) + DAMPING;
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

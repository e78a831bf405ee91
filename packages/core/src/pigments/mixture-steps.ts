import { Deviations, type Expected } from './deviations.ts';
import type { Evidence } from './evidence.ts';
import type { Part } from './part.ts';

/** What any material may hold of any other element, mass fraction, one standard deviation. Chosen. */
export const IMPURITY = 0.003;

const DAMPING = 1e-3;

/** What a fit of k parts reckons on, made once for an evidence: thousands of fits follow each other, and none reckons inside another. */
export interface Desk {
  readonly state: State;
  readonly equations: Equations;
  readonly deviations: Deviations;
  /** Logarithms of the fractions, and those by which physics and spread move what is expected of each element. */
  readonly ln: Float64Array;
  readonly u: Float64Array;
}

const DESKS = new WeakMap<Evidence, Desk[]>();

export function deskFor(evidence: Evidence, k: number): Desk {
  const desks = DESKS.get(evidence) ?? [];
  DESKS.set(evidence, desks);
  return (desks[k] ??= emptyDesk(evidence, k));
}

function emptyDesk(evidence: Evidence, k: number): Desk {
  const n = evidence.amounts.length;
  return {
    state: emptyState(n, k),
    equations: emptyEquations(n, k),
    deviations: new Deviations(evidence),
    ln: new Float64Array(k),
    u: new Float64Array(n),
  };
}

/** The linear equations of one step, of independent rows of unit variance, and their normal equations. */
export interface Equations {
  /** Derivatives of what is expected of each element by the logarithm of each fraction; part by part. */
  readonly slope: Float64Array;
  readonly gap: Float64Array;
  readonly before: Float64Array;
  readonly normal: Float64Array;
  readonly right: Float64Array;
  /** The same matrix, damped and eliminated, and the step that solves it. */
  readonly damped: Float64Array;
  readonly move: Float64Array;
}

function emptyEquations(n: number, k: number): Equations {
  return {
    slope: new Float64Array(k * n),
    gap: new Float64Array(n),
    before: new Float64Array(n),
    normal: new Float64Array(k * k),
    right: new Float64Array(k),
    damped: new Float64Array(k * k),
    move: new Float64Array(k),
  };
}

export function setEquations(
  { state, equations: { slope, gap, normal, right }, deviations, u }: Desk,
  { amounts }: Evidence,
  parts: readonly Part[],
): void {
  const { fractions, held, amounts: q } = state;
  const [n, k] = [amounts.length, parts.length];
  deviations.set(state);
  for (let i = 0; i < n; i++) {
    gap[i] = amounts[i].value - q[i] + u[i] * q[i];
    const perHeld = held[i] > 0 ? q[i] / held[i] : 0;
    for (let a = 0; a < k; a++) slope[a * n + i] = perHeld * fractions[a] * parts[a].holds[i];
  }
  deviations.whiten(gap);
  for (let a = 0; a < k; a++) deviations.whiten(slope, a * n);
  for (let a = 0; a < k; a++) {
    right[a] = dot(slope, a * n, gap, 0, n);
    for (let b = 0; b <= a; b++) normal[a * k + b] = normal[b * k + a] = dot(slope, a * n, slope, b * n, n);
  }
}

function dot(x: Float64Array, atX: number, y: Float64Array, atY: number, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i++) sum += x[atX + i] * y[atY + i];
  return sum;
}

/** Moves the factors u to what the step leaves for them; the largest change. */
export function moveFactors({ state, equations: { slope, gap, before, move }, deviations, u }: Desk): number {
  const n = gap.length;
  for (let a = 0; a < move.length; a++) for (let i = 0; i < n; i++) gap[i] -= slope[a * n + i] * move[a];
  deviations.unwhiten(gap);
  before.set(u);
  deviations.moved(state, gap, u);
  let largest = 0;
  for (let i = 0; i < n; i++) largest = Math.max(largest, Math.abs(u[i] - before[i]));
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

export function setState({ state, ln, u }: Desk, { amounts }: Evidence, parts: readonly Part[]): void {
  const { fractions, held, spread, amounts: q, sigma } = state;
  for (let m = 0; m < parts.length; m++) fractions[m] = Math.exp(ln[m]);
  for (let i = 0; i < amounts.length; i++) {
    const { kind, value, counting } = amounts[i];
    let [sum, variance, along] = [0, 0, 0];
    for (let m = 0; m < parts.length; m++) {
      const own = fractions[m] * parts[m].holds[i];
      sum += own;
      variance += (own * parts[m].loose[i]) ** 2;
      along += fractions[m] * parts[m].along[i];
    }
    held[i] = sum;
    spread[i] = sum > 0 ? Math.sqrt(variance) / sum : 0;
    q[i] = sum * Math.exp(u[i]);
    // Something above what is held may be an impurity or a companion.
    const excess = value > q[i] ? IMPURITY ** 2 + along ** 2 : 0;
    sigma[i] = kind === 'at-most' && sum <= value ? 0 : Math.sqrt(counting ** 2 + excess);
  }
}

/** Solves the damped normal equations of at most a few unknowns by elimination; a fixed one does not move. */
export function solve({ normal, right, damped: a, move: x }: Equations, k: number, fixed: number): Float64Array {
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
  return x;
}

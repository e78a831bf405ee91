import { cholesky, inverseFromCholesky, principalBlock, solveCholesky, solveLower } from './cholesky.ts';
import { addBanded, type Banded } from '../arithmetic/banded.ts';
import { ascending } from '../arithmetic/order.ts';
import { picked } from '../arithmetic/pick.ts';
import { Scratch } from '../arithmetic/scratch.ts';
import type { NormalEquations } from './normal.ts';
import { withRows } from './rows.ts';
import { strikingCost, type Work } from './work.ts';

/**
 * The problem left for the element amounts x once everything else (background, pile-up, nuisances) has been fitted
 * for each x: minimise xᵀ G x − 2 bᵀ x. Every hypothesis over element sets is a sub-problem of it.
 */
export interface AmountsProblem {
  /** Number of elements m. */
  readonly size: number;
  /** m × m, row-major, symmetric. */
  readonly G: Float64Array;
  readonly b: Float64Array;
  /** Chi-square at zero amounts, relative to that of the whole elimination (0 for the whole one itself). */
  readonly constant: number;
}

/** The elimination kept whole, so that columns can be given back (`withoutColumns`) and nuisances recovered. */
export interface Elimination extends AmountsProblem {
  /** Number of eliminated columns q. */
  readonly eliminated: number;
  /** Inverse of the eliminated block with its priors, q × q. */
  readonly C: Float64Array;
  /** Coupling A_EN C, m × q: change of each eliminated coefficient per unit amount, negated. */
  readonly M: Float64Array;
  /** Eliminated coefficients at zero amounts, q. */
  readonly theta0: Float64Array;
}

/** Gaussian prior on the eliminated coefficients: precision matrix (q × q) and precision times mean (q). */
export interface Prior {
  readonly precision: Banded;
  readonly precisionMean: Float64Array;
  /** Mean times precision times mean, 0 when left out: what makes the prior's share 0 at its mean. */
  readonly constant?: number;
}

/**
 * Schur complement of the normal equations: the first `m` columns stay, the rest, with their Gaussian prior, are
 * eliminated (marginalised exactly, as the model is linear in them).
 * @throws NotPositiveDefiniteError when an eliminated coefficient is neither measured nor bound by a prior
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., section 3.2.11 (block elimination).
 */
export function eliminate(normal: NormalEquations, m: number, prior: Prior): Elimination {
  const p = normal.size;
  const q = p - m;
  const rhs = new Float64Array(q);
  for (let i = 0; i < q; i++) rhs[i] = normal.rhs[m + i] + prior.precisionMean[i];
  const block = part(BLOCK.of(q * q), normal, [m, p], [m, p]);
  addBanded(block, prior.precision);
  const C = inverseFromCholesky(cholesky(block, q, FACTOR.of(q * q)), q);
  const theta0 = multiply(C, rhs, q, q);
  const coupling = part(COUPLING.of(m * q), normal, [0, m], [m, p]);
  const M = withRows(new Float64Array(m * q), m, q, C, q, coupling, 1);
  const b = normal.rhs.slice(0, m);
  for (let e = 0; e < m; e++) for (let j = 0; j < q; j++) b[e] -= coupling[e * q + j] * theta0[j];
  const kept = part(new Float64Array(m * m), normal, [0, m], [0, m]);
  const G = withRows(kept, m, m, transposed(coupling, m, q), q, M, -1);
  for (let e = 0; e < m; e++) for (let f = 0; f < e; f++) G[f * m + e] = G[e * m + f];
  return { size: m, G, b, constant: 0, eliminated: q, C, M, theta0 };
}

const [BLOCK, FACTOR, COUPLING, TRANSPOSED] = [new Scratch(), new Scratch(), new Scratch(), new Scratch()];

/** Fills an array with the rows [first, end) of the normal equations' matrix, of each the columns [left, right). */
function part(
  out: Float64Array,
  { matrix, size: p }: NormalEquations,
  [first, end]: readonly [number, number],
  [left, right]: readonly [number, number],
): Float64Array {
  let at = 0;
  for (let i = first; i < end; i++) for (let j = left; j < right; j++) out[at++] = matrix[i * p + j];
  return out;
}

function transposed(a: Float64Array, rows: number, columns: number): Float64Array {
  const out = TRANSPOSED.of(rows * columns);
  for (let i = 0; i < rows; i++) for (let j = 0; j < columns; j++) out[j * rows + i] = a[i * columns + j];
  return out;
}

/**
 * The amounts problem with some eliminated columns struck out of the model, without a new elimination:
 * G' = G + M_O C_OO⁻¹ M_Oᵀ and b' = b + M_O C_OO⁻¹ θ0_O (block inverse identity). Kept with the elimination: a search and what follows
 * from it ask for the same one.
 * @param columns indices among the eliminated columns, 0 .. q−1, in any order   @param work spends what making it costs
 */
export function withoutColumns(full: Elimination, columns: readonly number[], work?: Work): AmountsProblem {
  const sorted = [...columns].sort(ascending);
  const key = sorted.join();
  const kept = STRUCK.get(full) ?? new Map<string, AmountsProblem>();
  STRUCK.set(full, kept);
  const known = kept.get(key);
  if (known) return known;
  work?.spend(strikingCost(full.size, sorted.length));
  const made = struckOut(full, sorted);
  kept.set(key, made);
  return made;
}

const STRUCK = new WeakMap<Elimination, Map<string, AmountsProblem>>();

function struckOut(
  { size: m, eliminated: q, G, b, C, M, theta0 }: Elimination,
  columns: readonly number[],
): AmountsProblem {
  const k = columns.length;
  if (k === 0) return { size: m, G, b, constant: 0 };
  const l = cholesky(principalBlock(C, q, columns, BLOCK.of(k * k)), k, FACTOR.of(k * k));
  // Rows L⁻¹ M_Oᵀ and L⁻¹ θ0_O: the products of their columns are what is added.
  const all = COUPLING.of(m * k);
  const rows: Float64Array[] = [];
  for (let e = 0; e < m; e++) {
    const row = all.subarray(e * k, (e + 1) * k);
    for (let i = 0; i < k; i++) row[i] = M[e * q + columns[i]];
    if (!isZero(row)) solveLower(l, k, row);
    rows.push(row);
  }
  const struck = picked(theta0, columns);
  solveLower(l, k, struck);
  const more = { G: G.slice(), b: b.slice() };
  for (let e = 0; e < m; e++) {
    more.b[e] += dot(rows[e], struck);
    for (let f = 0; f <= e; f++) more.G[f * m + e] = more.G[e * m + f] += dot(rows[e], rows[f]);
  }
  return { size: m, ...more, constant: dot(struck, struck) };
}

function isZero(row: Float64Array): boolean {
  for (let i = 0; i < row.length; i++) if (row[i] !== 0) return false;
  return true;
}

function dot(a: Float64Array, b: Float64Array): number {
  const n = a.length;
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    s0 += a[i] * b[i];
    s1 += a[i + 1] * b[i + 1];
    s2 += a[i + 2] * b[i + 2];
    s3 += a[i + 3] * b[i + 3];
  }
  for (; i < n; i++) s0 += a[i] * b[i];
  return s0 + s1 + (s2 + s3);
}

/**
 * Eliminated coefficients at amounts x: θ = θ0 − Mᵀ x; where `struck` columns are taken out of the model, theirs are 0
 * and the others take up what they can: θ_R − C_RO C_OO⁻¹ θ_O.
 */
export function eliminatedAt(full: Elimination, x: Float64Array, struck: readonly number[] = []): Float64Array {
  const { eliminated: q, C, M } = full;
  const theta = full.theta0.slice();
  for (let e = 0; e < full.size; e++) {
    if (x[e] === 0) continue;
    for (let j = 0; j < q; j++) theta[j] -= M[e * q + j] * x[e];
  }
  const k = struck.length;
  if (k === 0) return theta;
  const share = picked(theta, struck);
  solveCholesky(cholesky(principalBlock(C, q, struck, BLOCK.of(k * k)), k, FACTOR.of(k * k)), k, share);
  for (let j = 0; j < q; j++) for (let r = 0; r < k; r++) theta[j] -= C[j * q + struck[r]] * share[r];
  for (const i of struck) theta[i] = 0;
  return theta;
}

function multiply(a: Float64Array, v: Float64Array, rows: number, cols: number): Float64Array {
  const out = new Float64Array(rows);
  for (let i = 0; i < rows; i++) {
    let sum = 0;
    for (let j = 0; j < cols; j++) sum += a[i * cols + j] * v[j];
    out[i] = sum;
  }
  return out;
}

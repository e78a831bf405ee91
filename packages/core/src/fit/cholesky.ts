import { kernel, type Kernel } from './kernel.ts';
import { addRows } from './rows.ts';
import { stretch } from '../arithmetic/stretch.ts';

/** Raised when a matrix that has to be positive definite is not. */
export class NotPositiveDefiniteError extends Error {
  override readonly name = 'NotPositiveDefiniteError';
  readonly pivot: number;
  constructor(pivot: number) {
    super(`matrix is not positive definite at pivot ${pivot}`);
    this.pivot = pivot;
  }
}

/**
 * Cholesky factor L (lower, A = L Lᵀ) of a symmetric positive definite matrix.
 * @param a n × n, row-major; only the lower triangle is read; not changed
 * @param into where the factor goes, n × n; above its diagonal nothing is written
 * @throws NotPositiveDefiniteError naming the pivot
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., algorithm 4.2.1 (by columns).
 */
export function cholesky(a: Float64Array, n: number, into: Float64Array = stretch(n * n)): Float64Array {
  const compiled = n < WORTH_COPYING ? null : kernel();
  return compiled ? compiledFactor(compiled, a, n, into) : factorInto(into, a, n);
}

/**
 * The same of the rows and columns `keep` of a symmetric p × p matrix, of which the upper triangle is read.
 * @param into where the factor goes, as for {@link cholesky}
 * @throws NotPositiveDefiniteError naming the pivot among those kept
 */
export function choleskyOf(matrix: Float64Array, p: number, keep: readonly number[], into: Float64Array): Float64Array {
  const n = keep.length;
  const compiled = n < WORTH_COPYING ? null : kernel();
  if (!compiled) return cholesky(principalBlock(matrix, p, keep, stretch(n * n)), n, into);
  const memory = compiled.doubles(n * n);
  for (let i = 0; i < n; i++) {
    const row = keep[i] * p;
    for (let j = i; j < n; j++) memory[i * n + j] = matrix[row + keep[j]];
  }
  return factorThere(compiled, n, into);
}

/** Smaller matrices are worked on where they are. */
const WORTH_COPYING = 16;

function compiledFactor(compiled: Kernel, a: Float64Array, n: number, into: Float64Array): Float64Array {
  const memory = compiled.doubles(n * n);
  // Its upper triangle is read there.
  for (let i = 0; i < n; i++) for (let j = 0; j <= i; j++) memory[j * n + i] = a[i * n + j];
  return factorThere(compiled, n, into);
}

/** The factor of what stands in the kernel's memory. */
function factorThere(compiled: Kernel, n: number, l: Float64Array): Float64Array {
  const memory = compiled.doubles(n * n);
  const failed = compiled.loops.factor(0, n);
  if (failed >= 0) throw new NotPositiveDefiniteError(failed);
  for (let i = 0; i < n; i++) for (let j = 0; j <= i; j++) l[i * n + j] = memory[j * n + i];
  return l;
}

/** The same for small matrices, the factor put into an array that is at hand; above its diagonal nothing is written. */
export function factorInto(l: Float64Array, a: Float64Array, n: number): Float64Array {
  for (let j = 0; j < n; j++) {
    const rj = j * n;
    let pivot = a[rj + j];
    for (let k = 0; k < j; k++) pivot -= l[rj + k] * l[rj + k];
    if (!(pivot > 0)) throw new NotPositiveDefiniteError(j);
    const root = Math.sqrt(pivot);
    l[rj + j] = root;
    // Four rows at a time: each sum waits for its own last term only.
    let i = j + 1;
    for (; i + 3 < n; i += 4) {
      const r0 = i * n;
      const r1 = r0 + n;
      const r2 = r1 + n;
      const r3 = r2 + n;
      let s0 = a[r0 + j];
      let s1 = a[r1 + j];
      let s2 = a[r2 + j];
      let s3 = a[r3 + j];
      for (let k = 0; k < j; k++) {
        const own = l[rj + k];
        s0 -= l[r0 + k] * own;
        s1 -= l[r1 + k] * own;
        s2 -= l[r2 + k] * own;
        s3 -= l[r3 + k] * own;
      }
      l[r0 + j] = s0 / root;
      l[r1 + j] = s1 / root;
      l[r2 + j] = s2 / root;
      l[r3 + j] = s3 / root;
    }
    for (; i < n; i++) {
      const ri = i * n;
      let sum = a[ri + j];
      for (let k = 0; k < j; k++) sum -= l[ri + k] * l[rj + k];
      l[ri + j] = sum / root;
    }
  }
  return l;
}

/** Solves L v = b in place (forward substitution); `v` holds b on entry. */
export function solveLower(l: Float64Array, n: number, v: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let sum = v[i];
    const row = i * n;
    for (let k = 0; k < i; k++) sum -= l[row + k] * v[k];
    v[i] = sum / l[row + i];
  }
}

/** Solves Lᵀ v = b in place (back substitution); `v` holds b on entry. */
export function solveUpper(l: Float64Array, n: number, v: Float64Array): void {
  for (let i = n - 1; i >= 0; i--) {
    const x = v[i] / l[i * n + i];
    v[i] = x;
    const row = i * n;
    for (let k = 0; k < i; k++) v[k] -= l[row + k] * x;
  }
}

/** Solves A v = b in place from the factor of A. */
export function solveCholesky(l: Float64Array, n: number, v: Float64Array): void {
  solveLower(l, n, v);
  solveUpper(l, n, v);
}

/**
 * A⁻¹ (n × n, row-major, symmetric) from the Cholesky factor of A: first L⁻¹, then L⁻ᵀ L⁻¹, each over a triangle only.
 * @param into where it goes
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., section 3.1 (triangular inverse by rows).
 */
export function inverseFromCholesky(l: Float64Array, n: number, into: Float64Array = stretch(n * n)): Float64Array {
  const compiled = n < WORTH_COPYING ? null : kernel();
  if (compiled) compiledInverse(compiled, l, n, into);
  else plainInverse(l, n, into);
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) into[j * n + i] = into[i * n + j];
  return into;
}

function compiledInverse(compiled: Kernel, l: Float64Array, n: number, into: Float64Array): void {
  const size = n * n;
  const memory = compiled.doubles(3 * size);
  memory.set(l.subarray(0, size));
  memory.fill(0, size, 3 * size);
  compiled.loops.invert(0, 8 * size, 16 * size, n);
  into.set(memory.subarray(2 * size, 3 * size));
}

/** The lower triangle. */
function plainInverse(l: Float64Array, n: number, inverse: Float64Array): void {
  // Row i of the triangular inverse: -(row i of L, left of the diagonal, times the rows above) / L_ii, and 1 / L_ii. Above the diagonal
  // there is nothing.
  const t = stretch(n * n);
  for (let i = 0; i < n; i++) {
    const row = i * n;
    const scale = 1 / l[row + i];
    for (let k = 0; k < i; k += BLOCK) {
      const end = Math.min(i, k + BLOCK);
      addRows(t, row, end, t, k * n, n, end - k, l, row + k, 1, -scale);
    }
    t[row + i] = scale;
  }
  inverse.fill(0);
  for (let i = 0; i < n; i++) addRows(inverse, i * n, i + 1, t, i * n, n, n - i, t, i * n + i, n, 1);
}

/** Rows of a triangle that are added together; what little lies beyond their diagonals is zero. */
const BLOCK = 16;

/** Rows and columns `keep` of a p × p matrix, in that order. @param block where they go */
export function principalBlock(
  matrix: Float64Array,
  p: number,
  keep: readonly number[],
  block: Float64Array,
): Float64Array {
  const k = keep.length;
  for (let r = 0; r < k; r++) {
    const row = keep[r] * p;
    for (let c = 0; c < k; c++) block[r * k + c] = matrix[row + keep[c]];
  }
  return block;
}

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
 * @throws NotPositiveDefiniteError naming the pivot
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., algorithm 4.2.1 (outer form written by rows).
 */
export function cholesky(a: Float64Array, n: number): Float64Array {
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const ri = i * n;
    for (let j = 0; j <= i; j++) {
      const rj = j * n;
      let sum = a[ri + j];
      for (let k = 0; k < j; k++) sum -= l[ri + k] * l[rj + k];
      if (i === j) {
        if (!(sum > 0)) throw new NotPositiveDefiniteError(i);
        l[ri + i] = Math.sqrt(sum);
      } else {
        l[ri + j] = sum / l[rj + j];
      }
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
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., section 3.1 (triangular inverse by rows).
 */
export function inverseFromCholesky(l: Float64Array, n: number): Float64Array {
  // Row i of the triangular inverse: -(row i of L, left of the diagonal, times the rows above) / L_ii, and 1 / L_ii.
  const t = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const row = i * n;
    const scale = 1 / l[row + i];
    for (let k = 0; k < i; k++) {
      const factor = -l[row + k] * scale;
      if (factor === 0) continue;
      const above = k * n;
      for (let j = 0; j <= k; j++) t[row + j] += factor * t[above + j];
    }
    t[row + i] = scale;
  }
  const inverse = new Float64Array(n * n);
  for (let k = 0; k < n; k++) {
    const row = k * n;
    for (let i = 0; i <= k; i++) {
      const factor = t[row + i];
      if (factor === 0) continue;
      const to = i * n;
      for (let j = 0; j <= i; j++) inverse[to + j] += factor * t[row + j];
    }
  }
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) inverse[j * n + i] = inverse[i * n + j];
  return inverse;
}

/** Rows and columns `keep` of a p × p matrix, in that order. */
export function principalBlock(matrix: Float64Array, p: number, keep: readonly number[]): Float64Array {
  const k = keep.length;
  const block = new Float64Array(k * k);
  keep.forEach((j, r) => keep.forEach((l, c) => (block[r * k + c] = matrix[j * p + l])));
  return block;
}

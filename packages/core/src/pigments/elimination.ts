import { NotPositiveDefiniteError } from '../fit/cholesky.ts';

/**
 * Elimination of a symmetric positive definite matrix in place, A = Uᵀ D⁻¹ U with D the diagonal of U; a few rows and columns, thousands
 * of times over. Each row x below the matrix becomes y = D U⁻ᵀ x, so that xᵀ A⁻¹ z is the sum of the products of y by their `inverses`.
 * @param a rows of n numbers, of the matrix its upper triangle, which becomes U
 * @param rows rows altogether
 * @param inverses 1 / D, written
 * @throws NotPositiveDefiniteError naming the pivot
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., section 4.1 (LDLᵀ).
 */
export function eliminate(a: Float64Array, n: number, rows: number, inverses: Float64Array): void {
  for (let j = 0; j < n; j++) {
    const row = j * n;
    if (!(a[row + j] > 0)) throw new NotPositiveDefiniteError(j);
    const inverse = 1 / a[row + j];
    inverses[j] = inverse;
    for (let i = j + 1; i < rows; i++) {
      // Of the matrix, the row above says what stands left of the diagonal.
      const factor = inverse * (i < n ? a[row + i] : a[i * n + j]);
      if (factor === 0) continue;
      for (let c = i < n ? i : j + 1; c < n; c++) a[i * n + c] -= factor * a[row + c];
    }
  }
}

/** A⁻¹ x of what elimination left of x in row `below`. @param x written */
export function backInto(x: Float64Array, a: Float64Array, n: number, below: number, inverses: Float64Array): void {
  for (let i = n - 1; i >= 0; i--) {
    let sum = a[below * n + i];
    for (let c = i + 1; c < n; c++) sum -= a[i * n + c] * x[c];
    x[i] = sum * inverses[i];
  }
}

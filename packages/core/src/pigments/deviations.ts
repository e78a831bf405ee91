import { cholesky, solveLower, solveUpper } from '../fit/cholesky.ts';
import type { Evidence } from './evidence.ts';

/** What is expected of each element of the evidence, aligned with its amounts. */
export interface Expected {
  /** Mass fractions, physics at its most likely. */
  readonly amounts: Float64Array;
  /** Standard deviation of what is measured of it: counting, impurities, companions; 0 where nothing is asked of it. */
  readonly sigma: Float64Array;
  /** Standard deviation of ln(amount) by the spread of the materials. */
  readonly spread: Float64Array;
}

/**
 * Covariance V of the deviations from what is expected, as its factor L, V = L Lᵀ: counting with the covariance of the fit of the
 * counts, physics with what lines have in common, spread of the materials. What was not measured stands alone.
 */
export class Deviations {
  readonly #evidence: Evidence;
  /** Standard deviation of what stands alone; 0 where nothing is asked. */
  readonly #alone: Float64Array;
  readonly #covariance: Float64Array;
  readonly #taken: Float64Array;
  #factor: Float64Array = new Float64Array(0);

  constructor(evidence: Evidence) {
    this.#evidence = evidence;
    this.#alone = new Float64Array(evidence.amounts.length);
    this.#covariance = new Float64Array(evidence.joint.places.length ** 2);
    this.#taken = new Float64Array(evidence.joint.places.length);
  }

  set({ amounts: q, sigma, spread }: Expected, withSpread = true): void {
    const { amounts, joint } = this.#evidence;
    for (let i = 0; i < q.length; i++) {
      const doubt2 = amounts[i].physics ** 2 + (withSpread ? spread[i] ** 2 : 0);
      this.#alone[i] = sigma[i] === 0 ? 0 : Math.sqrt(sigma[i] ** 2 + doubt2 * q[i] ** 2);
    }
    const { places, counting, physics } = joint;
    const m = places.length;
    const v = this.#covariance;
    for (let a = 0; a < m; a++) {
      const i = places[a];
      for (let b = 0; b < a; b++) v[a * m + b] = counting[a * m + b] + q[i] * q[places[b]] * physics[a * m + b];
      v[a * m + a] = this.#alone[i] ** 2;
    }
    this.#factor = cholesky(v, m);
    for (const i of places) this.#alone[i] = 0;
  }

  /** ln of the determinant of L, over what a mixture is judged by: not what may be held by others as well. */
  lnDeterminant(): number {
    const { amounts, joint } = this.#evidence;
    const m = joint.places.length;
    let sum = 0;
    for (let a = 0; a < m; a++) sum += Math.log(this.#factor[a * m + a]);
    for (let i = 0; i < amounts.length; i++)
      if (this.#alone[i] > 0 && amounts[i].kind !== 'at-most') sum += Math.log(this.#alone[i]);
    return sum;
  }

  /** L⁻¹ x in place, x from `at` on. */
  whiten(x: Float64Array, at = 0): void {
    this.#divide(x, at, solveLower);
  }

  /** L⁻ᵀ x in place. */
  unwhiten(x: Float64Array): void {
    this.#divide(x, 0, solveUpper);
  }

  #divide(x: Float64Array, at: number, solve: typeof solveLower): void {
    const { places } = this.#evidence.joint;
    const m = places.length;
    for (let a = 0; a < m; a++) this.#taken[a] = x[at + places[a]];
    solve(this.#factor, m, this.#taken);
    for (let i = 0; i < this.#alone.length; i++) x[at + i] = this.#alone[i] > 0 ? x[at + i] / this.#alone[i] : 0;
    for (let a = 0; a < m; a++) x[at + places[a]] = this.#taken[a];
  }

  /**
   * The logarithm by which physics and spread move each amount, most likely: their covariance times q V⁻¹ d.
   * @param weighed V⁻¹ d
   * @param u written
   */
  moved({ amounts: q, spread }: Expected, weighed: Float64Array, u: Float64Array): void {
    const { amounts, joint } = this.#evidence;
    const { places, physics } = joint;
    const m = places.length;
    for (let i = 0; i < u.length; i++) u[i] = weighed[i] * q[i] * (amounts[i].physics ** 2 + spread[i] ** 2);
    for (let a = 0; a < m; a++) {
      let sum = 0;
      for (let b = 0; b < m; b++) if (a !== b) sum += physics[a * m + b] * q[places[b]] * weighed[places[b]];
      u[places[a]] += sum;
    }
  }
}

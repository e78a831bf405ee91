import { log } from '../arithmetic/exponential.ts';
import { factorInto, solveUpper } from '../fit/cholesky.ts';
import type { Figures } from './figures.ts';

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
  readonly #figures: Figures;
  /** Standard deviation of what stands alone; 0 where nothing is asked. */
  readonly #alone: Float64Array;
  readonly #covariance: Float64Array;
  readonly #factor: Float64Array;
  readonly #taken: Float64Array;
  /** The places that the last covariance was made for. */
  #at: Int32Array;

  constructor(figures: Figures) {
    const m = figures.joint.places.length;
    this.#figures = figures;
    this.#alone = new Float64Array(figures.value.length);
    this.#covariance = new Float64Array(m * m);
    this.#factor = new Float64Array(m * m);
    this.#taken = new Float64Array(m);
    this.#at = figures.all;
  }

  /** @param at places that are reckoned with: all that was measured is among them */
  set({ amounts: q, sigma, spread }: Expected, at: Int32Array, withSpread = true): void {
    const { physics2, joint } = this.#figures;
    const { places, counting, physics } = joint;
    const alone = this.#alone;
    this.#at = at;
    for (let k = 0; k < at.length; k++) {
      const i = at[k];
      const doubt2 = physics2[i] + (withSpread ? spread[i] * spread[i] : 0);
      alone[i] = sigma[i] === 0 ? 0 : Math.sqrt(sigma[i] * sigma[i] + doubt2 * q[i] * q[i]);
    }
    const m = places.length;
    const v = this.#covariance;
    for (let a = 0; a < m; a++) {
      const i = places[a];
      for (let b = 0; b < a; b++) v[a * m + b] = counting[a * m + b] + q[i] * q[places[b]] * physics[a * m + b];
      v[a * m + a] = alone[i] * alone[i];
    }
    factorInto(this.#factor, v, m);
    for (let a = 0; a < m; a++) alone[places[a]] = 0;
  }

  /** ln of the determinant of L, over what a mixture is judged by: not what may be held by others as well. */
  lnDeterminant(): number {
    const { atMost, joint } = this.#figures;
    const m = joint.places.length;
    let sum = 0;
    for (let a = 0; a < m; a++) sum += log(this.#factor[a * m + a]);
    const [at, alone] = [this.#at, this.#alone];
    for (let k = 0; k < at.length; k++) if (alone[at[k]] > 0 && !atMost[at[k]]) sum += log(alone[at[k]]);
    return sum;
  }

  /** L⁻¹ x in place, x from `from` on. */
  whiten(x: Float64Array, from = 0): void {
    const { places } = this.#figures.joint;
    const [l, taken] = [this.#factor, this.#taken];
    const m = places.length;
    let first = 0;
    while (first < m && x[from + places[first]] === 0) first++;
    // A part holds few elements: before the first of them all is 0, and stays so.
    for (let a = first; a < m; a++) {
      let sum = x[from + places[a]];
      for (let b = first; b < a; b++) sum -= l[a * m + b] * taken[b];
      taken[a] = sum / l[a * m + a];
    }
    this.#divideAlone(x, from);
    for (let a = first; a < m; a++) x[from + places[a]] = taken[a];
  }

  /** L⁻ᵀ x in place. */
  unwhiten(x: Float64Array): void {
    const { places } = this.#figures.joint;
    const taken = this.#taken;
    const m = places.length;
    for (let a = 0; a < m; a++) taken[a] = x[places[a]];
    solveUpper(this.#factor, m, taken);
    this.#divideAlone(x, 0);
    for (let a = 0; a < m; a++) x[places[a]] = taken[a];
  }

  /** What stands alone; 0 for all others. */
  #divideAlone(x: Float64Array, from: number): void {
    const [at, alone] = [this.#at, this.#alone];
    for (let k = 0; k < at.length; k++) {
      const i = at[k];
      x[from + i] = alone[i] > 0 ? x[from + i] / alone[i] : 0;
    }
  }

  /**
   * The logarithm by which physics and spread move each amount, most likely: their covariance times q V⁻¹ d.
   * @param weighed V⁻¹ d
   * @param u written
   */
  moved({ amounts: q, spread }: Expected, weighed: Float64Array, u: Float64Array): void {
    const { physics2, joint } = this.#figures;
    const { places, physics } = joint;
    const at = this.#at;
    const m = places.length;
    for (let k = 0; k < at.length; k++) {
      const i = at[k];
      u[i] = weighed[i] * q[i] * (physics2[i] + spread[i] * spread[i]);
    }
    for (let a = 0; a < m; a++) {
      let sum = 0;
      for (let b = 0; b < m; b++) if (a !== b) sum += physics[a * m + b] * q[places[b]] * weighed[places[b]];
      u[places[a]] += sum;
    }
  }
}

import { describe, expect, it } from 'vitest';
import { DESK, layDesk } from './desk.ts';
import { lnWidening, moved, weighCovariance, weighGap } from './deviations.ts';
import type { Amount, Evidence } from './evidence.ts';
import type { Part } from './part.ts';

/** The whole, three amounts measured, one that is not seen, one that is open. */
const KINDS = ['at-most', 'measured', 'measured', 'measured', 'not-seen', 'at-most'] as const;
const physics2 = [0.04, 0.04, 0.09, 0.0625, 0.01, 0.02];
const places = [1, 2, 3];
const counting = Float64Array.of(0, 2e-5, 0, 2e-5, 0, -1e-5, 0, -1e-5, 0);
const physics = Float64Array.of(0.04, 0.01, 0.02, 0.01, 0.09, 0.005, 0.02, 0.005, 0.0625);
const evidence: Evidence = {
  amounts: KINDS.map((kind, i) => ({ kind, value: 0, counting: 0.01, physics: Math.sqrt(physics2[i]) }) as Amount),
  place: new Int16Array(0),
  joint: { places, counting, physics },
};
const N = KINDS.length;
const holding = (...of: number[]): Part => ({
  ...({ restsOnOpen: false, lnPrior: 0 } as Part),
  places: Int32Array.from(of),
  holds: Float64Array.from({ length: N }, (_, i) => (of.includes(i) ? 0.5 : 0)),
  loose: new Float64Array(N),
  along: new Float64Array(N),
});

/** What is expected of each: amounts, and standard deviations by counting and of the logarithm by spread. Of the whole nothing is asked. */
const q = [0.9, 0.3, 0.2, 0.1, 0.02, 0.05];
const sigma = [0, 0.01, 0.02, 0.015, 0.01, 0.03];
const spread = [0, 0.1, 0.3, 0, 0.2, 0.1];

/** Lays the desk and puts it at that state; its places are in another order. */
function layAt(...of: number[]): void {
  layDesk(evidence, [holding(...of)]);
  const { at, size, state } = DESK;
  for (let j = 0; j < size; j++) {
    state.amounts[j] = q[at[j]];
    state.sigma2[j] = sigma[at[j]] ** 2;
    state.spread2[j] = spread[at[j]] ** 2;
  }
}
const ofEach = (values: Float64Array): number[] => {
  const { at, size } = DESK;
  const each = Array<number>(N).fill(0);
  for (let j = 0; j < size; j++) each[at[j]] = values[j];
  return each;
};

/** The covariance as the docstring has it. */
function covariance(withSpread = true): number[][] {
  return Array.from({ length: N }, (_, i) =>
    Array.from({ length: N }, (_, j) => {
      const [a, b] = [places.indexOf(i), places.indexOf(j)];
      if (i === j) return sigma[i] ** 2 + q[i] ** 2 * (physics2[i] + (withSpread ? spread[i] ** 2 : 0));
      return a < 0 || b < 0 ? 0 : counting[a * 3 + b] + q[i] * q[j] * physics[a * 3 + b];
    }),
  );
}
const asked = [1, 2, 3, 4, 5];
const times = (matrix: readonly (readonly number[])[], x: ArrayLike<number>): number[] =>
  matrix.map((row, i) => (asked.includes(i) ? asked.reduce((sum, j) => sum + row[j] * x[j], 0) : 0));
const close = (a: ArrayLike<number>, b: readonly number[]): void =>
  b.forEach((value, i) => expect(Math.abs(a[i] - value)).toBeLessThan(1e-9 * (1 + Math.abs(value))));
/** Of what hangs together, by cofactors, and what stands alone. */
function determinant(of: readonly (readonly number[])[], alone: readonly number[]): number {
  const [[a, b, c], [d, e, f], [g, h, i]] = places.map((r) => places.map((s) => of[r][s]));
  return alone.reduce(
    (product, k) => product * of[k][k],
    a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g),
  );
}

describe('deviations from what is expected', () => {
  const all = [0, 1, 2, 3, 4, 5];

  it('are weighed by counting, physics and spread together: V⁻¹ d', () => {
    const d = [0.1, 0.02, -0.03, 0.01, 0.004, -0.02];
    layAt(...all);
    const { at, size, joined: m, equations } = DESK;
    const { rows, gap } = equations;
    for (let j = 0; j < m; j++) rows[m * m + j] = d[at[j]];
    for (let j = m; j < size; j++) gap[j] = d[at[j]];
    weighCovariance(1);
    weighGap(m);
    const each = ofEach(gap);
    close(times(covariance(), each), [0, 0.02, -0.03, 0.01, 0.004, -0.02]);
    // Of the whole nothing is asked.
    expect(each[0]).toBe(0);
  });

  it('are widened by spread: by the determinant over what mixtures are judged by, without what others may hold as well', () => {
    layAt(...all);
    weighCovariance(0);
    const [wide, narrow] = [determinant(covariance(), [4]), determinant(covariance(false), [4])];
    expect(2 * lnWidening()).toBeCloseTo(Math.log(wide / narrow), 9);
  });

  it('are reckoned with at the places that the parts hold, and at those that counting ties together', () => {
    layAt(0, 1);
    expect([...DESK.at.subarray(0, DESK.size)]).toEqual([1, 2, 3, 0]);
    weighCovariance(0);
    const [wide, narrow] = [determinant(covariance(), []), determinant(covariance(false), [])];
    expect(2 * lnWidening()).toBeCloseTo(Math.log(wide / narrow), 9);
  });

  it('move each amount by physics and spread: their covariance times q V⁻¹ d', () => {
    const weights = [0, 3, -2, 1, 0.5, 4];
    layAt(...all);
    const { at, size, equations } = DESK;
    for (let j = 0; j < size; j++) equations.gap[j] = weights[at[j]];
    moved();
    const own = (i: number): number => physics2[i] + spread[i] ** 2;
    const together = (i: number): number =>
      places.reduce(
        (sum, j, b) => sum + (i === j ? own(i) : physics[places.indexOf(i) * 3 + b]) * q[j] * weights[j],
        0,
      );
    close(ofEach(equations.change), [0, together(1), together(2), together(3), own(4) * q[4] * 0.5, own(5) * q[5] * 4]);
  });
});

import { describe, expect, it } from 'vitest';
import { Deviations, type Expected } from './deviations.ts';
import type { Figures } from './figures.ts';

/** The whole, three amounts measured, one that is not seen, one that is open. */
const N = 6;
const places = [1, 2, 3];
const counting = Float64Array.of(0, 2e-5, 0, 2e-5, 0, -1e-5, 0, -1e-5, 0);
const physics = Float64Array.of(0.04, 0.01, 0.02, 0.01, 0.09, 0.005, 0.02, 0.005, 0.0625);
const figures: Figures = {
  value: new Float64Array(N),
  counting: new Float64Array(N),
  physics2: Float64Array.of(0.04, 0.04, 0.09, 0.0625, 0.01, 0.02),
  atMost: Uint8Array.of(1, 0, 0, 0, 0, 1),
  joint: { places, counting, physics },
  all: Int32Array.from({ length: N }, (_, i) => i),
  measured: Uint8Array.of(0, 1, 1, 1, 0, 0),
};
const expected: Expected = {
  amounts: Float64Array.of(0.9, 0.3, 0.2, 0.1, 0.02, 0.05),
  sigma: Float64Array.of(0, 0.01, 0.02, 0.015, 0.01, 0.03),
  spread: Float64Array.of(0, 0.1, 0.3, 0, 0.2, 0.1),
};
const { amounts: q, sigma, spread } = expected;

/** The covariance as the docstring has it. */
function covariance(withSpread = true): number[][] {
  return Array.from({ length: N }, (_, i) =>
    Array.from({ length: N }, (_, j) => {
      const [a, b] = [places.indexOf(i), places.indexOf(j)];
      if (i === j) return sigma[i] ** 2 + q[i] ** 2 * (figures.physics2[i] + (withSpread ? spread[i] ** 2 : 0));
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
  const deviations = new Deviations(figures);
  deviations.set(expected, figures.all);

  it('are weighed by counting, physics and spread together: whitened twice they are V⁻¹ d', () => {
    const d = Float64Array.of(0.1, 0.02, -0.03, 0.01, 0.004, -0.02);
    const weighed = d.slice();
    deviations.whiten(weighed);
    const square = weighed.reduce((sum, value) => sum + value * value, 0);
    deviations.unwhiten(weighed);
    close(times(covariance(), weighed), [0, 0.02, -0.03, 0.01, 0.004, -0.02]);
    // Of the whole nothing is asked.
    expect(weighed[0]).toBe(0);
    expect(asked.reduce((sum, i) => sum + d[i] * weighed[i], 0)).toBeCloseTo(square, 9);
  });

  it('are whitened from where they begin, whichever elements they have', () => {
    for (const first of [1, 2, 3, 4]) {
      const alone = new Float64Array(N);
      alone.fill(0.01, first);
      const shifted = new Float64Array(2 * N);
      shifted.set(alone, N);
      deviations.whiten(alone);
      deviations.whiten(shifted, N);
      close(shifted.subarray(N), [...alone]);
      expect(shifted.subarray(0, N).every((value) => value === 0)).toBe(true);
    }
  });

  it('have a volume: the determinant over what mixtures are judged by, without what others may hold as well', () => {
    expect(2 * deviations.lnDeterminant()).toBeCloseTo(Math.log(determinant(covariance(), [4])), 9);
    const rigid = new Deviations(figures);
    rigid.set(expected, figures.all, false);
    expect(2 * rigid.lnDeterminant()).toBeCloseTo(Math.log(determinant(covariance(false), [4])), 9);
  });

  it('are reckoned at the places that are asked for', () => {
    const fewer = new Deviations(figures);
    fewer.set(expected, Int32Array.of(0, 1, 2, 3));
    expect(2 * fewer.lnDeterminant()).toBeCloseTo(Math.log(determinant(covariance(), [])), 9);
  });

  it('move each amount by physics and spread: their covariance times q V⁻¹ d', () => {
    const weighed = Float64Array.of(0, 3, -2, 1, 0.5, 4);
    const u = new Float64Array(N);
    deviations.moved(expected, weighed, u);
    const own = (i: number): number => figures.physics2[i] + spread[i] ** 2;
    const together = (i: number): number =>
      places.reduce(
        (sum, j, b) => sum + (i === j ? own(i) : physics[places.indexOf(i) * 3 + b]) * q[j] * weighed[j],
        0,
      );
    close(u, [0, together(1), together(2), together(3), own(4) * q[4] * 0.5, own(5) * q[5] * 4]);
  });
});

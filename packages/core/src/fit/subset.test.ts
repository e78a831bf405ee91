import { describe, expect, it } from 'vitest';
import { uniform } from '../../../../tests/fixtures/uniform.ts';
import type { AmountsProblem } from './eliminate.ts';
import { gainOf, gainsOf, removalCosts, solveSubset, withMember, withoutMember } from './subset.ts';

const problem = (size: number, G: readonly number[], b: readonly number[]): AmountsProblem => ({
  size,
  G: Float64Array.from(G),
  b: Float64Array.from(b),
  constant: 0,
});
/** Inverse of G: (3, -2; -2, 4) / 8. */
const two = (b: readonly number[]): AmountsProblem => problem(2, [4, 2, 2, 3], b);

describe('the best amounts of two elements', () => {
  it('solve the normal equations where both are positive', () => {
    const { members, x, covariance, objective } = solveSubset(two([8, 7]), [1, 0]);
    expect(members).toEqual([0, 1]);
    for (const [found, expected] of [
      [x[0], 10 / 8],
      [x[1], 12 / 8],
      [covariance[0], 3 / 8],
      [covariance[1], -2 / 8],
      [covariance[3], 4 / 8],
      [objective, -20.5],
    ])
      expect(found).toBeCloseTo(expected, 8);
  });

  it('leave one out that would be negative, and one that is not allowed', () => {
    // Both free: 5/8 and -6/8. The first alone: 1/4, chi-square -1/4.
    const { members, x, objective } = solveSubset(two([1, -1]), [0, 1]);
    expect([members, x[1]]).toEqual([[0], 0]);
    expect(x[0]).toBeCloseTo(1 / 4, 8);
    expect(objective).toBeCloseTo(-1 / 4, 8);
    expect(solveSubset(two([8, 7]), [1]).x[1]).toBeCloseTo(7 / 3, 8);
    expect(solveSubset(two([8, 7]), [])).toMatchObject({ members: [], objective: 0 });
  });

  it('tell what the other would bring, and at what uncertainty', () => {
    const alone = solveSubset(two([8, 7]), [0]);
    const { gain, sigma, amount } = gainsOf(two([8, 7]), alone);
    // Left to the second: slope 7 - 2 * 2 = 3, information 3 - 2 * 2 / 4 = 2.
    expect([gain[1], sigma[1], amount[1]].map((value) => value.toFixed(6))).toEqual([
      '4.500000',
      '0.707107',
      '1.500000',
    ]);
    expect([gain[0], sigma[0]]).toEqual([0, Infinity]);
  });

  it('do not take in what the members already span', () => {
    const same = problem(2, [4, 4, 4, 4], [8, 8]);
    const first = solveSubset(same, [0]);
    expect(gainOf(same, first)[1]).toBe(0);
    expect(gainsOf(same, first).sigma[1]).toBe(Infinity);
  });
});

/** Templates of a few channels that overlap a little, all positive, and amounts of which some are 0; counts without noise or with some. */
function drawn(seed: number): AmountsProblem {
  const next = uniform(seed);
  const [m, n] = [6, 24];
  const columns = Array.from({ length: m }, (_, e) =>
    Array.from({ length: n }, (_, i) => Math.exp(-0.5 * ((i - 3 - 3.4 * e) / 1.8) ** 2)),
  );
  const truth = columns.map(() => (next() < 0.4 ? 0 : 20 * next()));
  const y = Array.from({ length: n }, (_, i) =>
    columns.reduce((sum, c, e) => sum + truth[e] * c[i], 4 * (next() - 0.5)),
  );
  const dot = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, value, i) => sum + value * b[i], 0);
  return problem(
    m,
    columns.flatMap((a) => columns.map((b) => dot(a, b))),
    columns.map((a) => dot(a, y)),
  );
}

describe.each([1, 2, 3, 4, 5, 6, 7, 8])('six elements that overlap, seed %i', (seed) => {
  const all = drawn(seed);
  const near = (a: ArrayLike<number>, b: ArrayLike<number>): void => {
    expect(a.length).toBe(b.length);
    for (let i = 0; i < a.length; i++) expect(Math.abs(a[i] - b[i])).toBeLessThan(1e-6 * (1 + Math.abs(b[i])));
  };

  it('have amounts that no small move betters (Karush, Kuhn, Tucker)', () => {
    const { members, x } = solveSubset(all, [0, 1, 2, 3, 4, 5]);
    for (const e of members) expect(x[e]).toBeGreaterThan(0);
    for (const e of members) {
      let slope = all.b[e];
      for (let f = 0; f < all.size; f++) slope -= all.G[e * all.size + f] * x[f];
      expect(Math.abs(slope)).toBeLessThan(1e-6);
    }
  });

  it('cost, one by one, what solving anew without them says, and bring back as much', () => {
    const whole = solveSubset(all, [0, 2, 3, 5]);
    const costs = removalCosts(whole);
    whole.members.forEach((e, place) => {
      const rest = whole.members.filter((other) => other !== e);
      const anew = solveSubset(all, rest);
      const updated = withoutMember(all, whole, place);
      expect(updated.members).toEqual(anew.members);
      near(updated.x, anew.x);
      near(updated.covariance, anew.covariance);
      if (anew.members.length < rest.length) return;
      expect(Math.abs(costs[place] - (anew.objective - whole.objective))).toBeLessThan(1e-5);
      expect(Math.abs(gainOf(all, updated)[e] - costs[place])).toBeLessThan(1e-5);
      const back = withMember(all, updated, e);
      near(back.x, whole.x);
      near(back.covariance, whole.covariance);
      near(gainOf(all, back), gainOf(all, whole));
    });
  });
});

import { describe, expect, it } from 'vitest';
import { banded } from '../arithmetic/banded.ts';
import { columnOf, valueAt } from '../model/column.ts';
import { eliminate, eliminatedAt, withoutColumns } from './eliminate.ts';
import { normalEquations } from './normal.ts';
import { solveSubset, gainsOf, removalCosts } from './subset.ts';

/** Small linear congruential sequence in [0, 1): tests need repeatable numbers, not good ones. */
function sequence(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 1103515245 + 12345) % 2147483648) / 2147483648;
}

const n = 60;
const random = sequence(7);
const columns = Array.from({ length: 9 }, (_, k) => {
  const values = new Float64Array(n);
  for (let i = 0; i < n; i++) values[i] = Math.exp(-0.5 * ((i - 6 * k - 4) / 4) ** 2) + 0.02 * random();
  return columnOf(values);
});
const y = Float64Array.from({ length: n }, () => 5 + 20 * random());
const w = Float64Array.from({ length: n }, () => 0.05 + 0.1 * random());
const m = 4;
const q = columns.length - m;
const prior = { precision: banded(q, new Float64Array(q).fill(0.3)), precisionMean: new Float64Array(q) };

/** Chi-square with priors at given coefficients, relative to the data's own sum of squares. */
function chiSquare(coefficients: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < n; i++) {
    let model = 0;
    columns.forEach((column, k) => (model += coefficients[k] * valueAt(column, i)));
    sum += w[i] * (y[i] - model) ** 2;
  }
  for (let i = 0; i < q; i++) sum += 0.3 * coefficients[m + i] ** 2;
  return sum;
}

const full = eliminate(normalEquations(columns, y, w, 0, n), m, prior);

describe('elimination of all but the element amounts', () => {
  it('gives the same fall of chi-square as the whole problem', () => {
    const x = Float64Array.from([1.5, 0.2, 3, 0.7]);
    const theta = eliminatedAt(full, x);
    const atZero = eliminatedAt(full, new Float64Array(m));
    let objective = 0;
    for (let i = 0; i < m; i++) {
      objective -= 2 * full.b[i] * x[i];
      for (let j = 0; j < m; j++) objective += x[i] * full.G[i * m + j] * x[j];
    }
    const direct = chiSquare([...x, ...theta]) - chiSquare([0, 0, 0, 0, ...atZero]);
    expect(objective).toBeCloseTo(direct, 8);
  });

  it('finds the coefficients that minimise chi-square at given amounts', () => {
    const x = Float64Array.from([1, 2, 0, 1]);
    const theta = eliminatedAt(full, x);
    const best = chiSquare([...x, ...theta]);
    for (let i = 0; i < q; i++) {
      for (const step of [-1e-3, 1e-3]) {
        const moved = theta.slice();
        moved[i] += step;
        expect(chiSquare([...x, ...moved])).toBeGreaterThan(best);
      }
    }
  });

  it('strikes columns out as if they had never been there', () => {
    const struck = [1, 3];
    const kept = columns.filter((_, k) => k < m || !struck.includes(k - m));
    const keptPrior = { precision: banded(3, new Float64Array(3).fill(0.3)), precisionMean: new Float64Array(3) };
    const direct = eliminate(normalEquations(kept, y, w, 0, n), m, keptPrior);
    const cheap = withoutColumns(full, struck);
    for (let i = 0; i < m * m; i++) expect(cheap.G[i]).toBeCloseTo(direct.G[i], 9);
    for (let i = 0; i < m; i++) expect(cheap.b[i]).toBeCloseTo(direct.b[i], 9);
    const x = Float64Array.from([1, 0.5, 2, 0]);
    const theta = eliminatedAt(full, x, struck);
    const expected = eliminatedAt(direct, x);
    expect(theta[1]).toBe(0);
    expect(theta[3]).toBe(0);
    [0, 2, 4].forEach((at, i) => expect(theta[at]).toBeCloseTo(expected[i], 9));
    const rise =
      chiSquare([0, 0, 0, 0, ...eliminatedAt(full, new Float64Array(m), struck)]) -
      chiSquare([0, 0, 0, 0, ...full.theta0]);
    expect(cheap.constant).toBeCloseTo(rise, 8);
  });
});

describe('subsets of elements', () => {
  it('meets the optimality conditions of non-negative least squares on its members', () => {
    const solution = solveSubset(full, [0, 1, 2, 3]);
    for (const e of solution.members) {
      let slope = full.b[e];
      for (let j = 0; j < m; j++) slope -= full.G[e * m + j] * solution.x[j];
      expect(solution.x[e]).toBeGreaterThan(0);
      expect(Math.abs(slope)).toBeLessThan(1e-6 * Math.abs(full.b[e]));
    }
  });

  it('foretells the fall of chi-square on adding and its rise on removing an element', () => {
    const all = solveSubset(full, [0, 1, 2, 3]);
    expect(all.members).toEqual([0, 1, 2, 3]);
    const three = solveSubset(full, [0, 1, 2]);
    expect(gainsOf(full, three).gain[3]).toBeCloseTo(three.objective - all.objective, 6);
    expect(removalCosts(all)[3]).toBeCloseTo(three.objective - all.objective, 6);
  });
});

import { describe, expect, it } from 'vitest';
import { columnOf } from '../model/column.ts';
import { fitPoisson } from './poisson.ts';
import type { PoissonProblem } from './poisson-problem.ts';
import { profileInterval } from './profile.ts';

const flat = (n: number): Float64Array => new Float64Array(n).fill(1 / n);

/** A number of counts without background: C rises by `rise` where 2 (m - n + n ln(n/m)) does. */
function alone(counts: number, rise: number): { low: number; high: number } {
  const at = (m: number): number => 2 * (m - counts + (counts > 0 ? counts * Math.log(counts / m) : 0)) - rise;
  const root = (a: number, b: number): number => {
    let [low, high] = [a, b];
    for (let step = 0; step < 200; step++) {
      const middle = 0.5 * (low + high);
      if (at(low) * at(middle) <= 0) high = middle;
      else low = middle;
    }
    return low;
  };
  return { low: counts > 0 ? root(1e-9, counts) : 0, high: root(Math.max(counts, 1e-9), 10 * counts + 20) };
}

describe('the profile-likelihood interval', () => {
  it.each([
    [3, 1],
    [10, 1],
    [10, 3.84],
    [1000, 1],
  ])('of %i counts without background, rise %f: solved by hand', (total, rise) => {
    const counts = new Float64Array(4).fill(total / 4);
    const problem: PoissonProblem = {
      columns: [columnOf(flat(4))],
      counts,
      lo: 0,
      hi: 4,
      lower: new Float64Array(1),
      prior: null,
    };
    const fit = fitPoisson(problem, Float64Array.of(total), { tolerance: 1e-12 });
    const { low, high } = profileInterval(problem, fit, 0, rise);
    const wanted = alone(total, rise);
    expect(Math.abs(low / wanted.low - 1)).toBeLessThan(1e-3);
    expect(Math.abs(high / wanted.high - 1)).toBeLessThan(1e-3);
  });

  const peak = columnOf(Float64Array.from({ length: 60 }, (_, i) => Math.exp(-0.5 * ((i - 30) / 4) ** 2) / 10.03));
  const both = (height: number): PoissonProblem => ({
    columns: [peak, columnOf(flat(60))],
    counts: Float64Array.from(peak.values, (value) => Math.round(height * value) + 2),
    lo: 0,
    hi: 60,
    lower: new Float64Array(2),
    prior: null,
  });

  it('of many counts is the symmetric one', () => {
    const problem = both(1e6);
    const fit = fitPoisson(problem, Float64Array.of(1e6, 100), { tolerance: 1e-12 });
    const sigma = Math.sqrt(fit.covariance[0]);
    const { low, high } = profileInterval(problem, fit, 0);
    expect(Math.abs((fit.coefficients[0] - low) / sigma - 1)).toBeLessThan(0.01);
    expect(Math.abs((high - fit.coefficients[0]) / sigma - 1)).toBeLessThan(0.01);
  });

  it('ends at the bound where nothing speaks against it', () => {
    const problem = both(0);
    const fit = fitPoisson(problem, Float64Array.of(10, 100), { tolerance: 1e-12 });
    const { low, high } = profileInterval(problem, fit, 0);
    expect(low).toBe(0);
    expect(high).toBeGreaterThan(1);
    expect(high).toBeLessThan(20);
  });
});

import { describe, expect, it } from 'vitest';
import { banded } from '../arithmetic/banded.ts';
import { columnOf } from '../model/column.ts';
import { bundleOf } from './bundle.ts';
import { cash } from './cash.ts';
import {
  FLOOR,
  factored,
  freeOf,
  freshStep,
  information,
  newtonStep,
  nextStep,
  stateAt,
  type Step,
} from './newton-step.ts';
import type { PoissonProblem } from './poisson-problem.ts';
import { Work } from './work.ts';

const N = 40;
const [lo, hi] = [3, 33];
const columns = [
  columnOf(new Float64Array(N).fill(1)),
  columnOf(Float64Array.from({ length: N }, (_, i) => Math.exp(-(((i - 15) / 3) ** 2)))),
  columnOf(Float64Array.from({ length: N }, (_, i) => Math.exp(-(((i - 22) / 3) ** 2)))),
];
const counts = Float64Array.from({ length: N }, (_, i) => (i % 7 === 0 ? 0 : 5 + (i % 4) + (i === 15 ? 40 : 0)));
const lower = new Float64Array(3);
const problem: PoissonProblem = { columns, counts, lo, hi, lower, prior: null };
const at = (...coefficients: readonly number[]) => stateAt(problem, Float64Array.from(coefficients));

describe('where a solution stands', () => {
  it('is half of the Cash statistic, up to what the counts alone say', () => {
    const [a, b] = [at(5, 30, 2), at(8, 10, 0)];
    const c = cash(counts, a.expected, lo, hi) - cash(counts, b.expected, lo, hi);
    expect(2 * (a.objective - b.objective)).toBeCloseTo(c, 8);
  });

  it.each([
    ['plenty is expected', [5, 30, 2]],
    ['next to nothing is expected', [0.4 * FLOOR, 0.2 * FLOOR, 0]],
    ['less than nothing is expected', [-2 * FLOOR, 0, 0.5 * FLOOR]],
  ])('has the gradient of its objective where %s', (_, coefficients) => {
    const { gradient } = at(...coefficients);
    coefficients.forEach((value, j) => {
      const step = 1e-6 * Math.max(FLOOR, Math.abs(value));
      const moved = (by: number): number => at(...coefficients.map((one, k) => (k === j ? one + by : one))).objective;
      const slope = (moved(-step) - moved(step)) / (2 * step);
      expect(Math.abs(gradient[j] / slope - 1)).toBeLessThan(1e-4);
    });
  });

  it('passes smoothly from the logarithm to the parabola that stands in for it', () => {
    const [over, under] = [at(FLOOR * (1 + 1e-9), 0, 0), at(FLOOR * (1 - 1e-9), 0, 0)];
    expect(Math.abs(over.objective - under.objective)).toBeLessThan(1e-4);
    expect(Math.abs(over.gradient[0] / under.gradient[0] - 1)).toBeLessThan(1e-6);
    // Where nothing was counted, nothing is best: no expectation below it is drawn on downwards for ever.
    const none = { ...problem, counts: new Float64Array(N) };
    const below = (value: number): number => stateAt(none, Float64Array.of(value, 0, 0)).objective;
    expect(below(-2)).toBeGreaterThan(below(-1));
  });

  it('holds a coefficient at its bound unless it is drawn inside', () => {
    const state = at(8, 0, 0);
    expect(state.gradient[1]).toBeGreaterThan(0);
    expect(state.gradient[2]).toBeLessThan(0);
    expect(freeOf(problem, state)).toEqual([0, 1]);
    expect(freeOf({ ...problem, lower: Float64Array.of(0, 0, -1) }, state)).toEqual([0, 1, 2]);
    expect(freeOf(problem, { ...state, gradient: Float64Array.of(0, 0, 0) })).toEqual([0]);
  });
});

describe('a Newton step', () => {
  const state = at(6, 30, 1);
  const made = freshStep(problem, state);
  // The next one is made in the same memory.
  const fresh: Step = { ...made, matrix: made.matrix.slice(), factor: made.factor.slice() };
  const before = (decrement: number): Step => ({ ...fresh, decrement });
  const kept = (decrement: number): boolean => nextStep(problem, state, before(decrement)).matrix === fresh.matrix;

  it('has the information again while the decrement falls to three tenths, and makes a new one where it falls less', () => {
    expect(kept(fresh.decrement / 0.29)).toBe(true);
    expect(kept(fresh.decrement / 0.31)).toBe(false);
  });

  it('solves for the coefficients that are free now', () => {
    const { free, direction } = nextStep(problem, at(8, 0, 0), before(1e9));
    expect(free).toEqual([0, 1]);
    expect(direction[2]).toBe(0);
    expect(direction[1]).toBeGreaterThan(0);
    // The decrement is what the slope promises along the direction.
    const step = newtonStep(state, fresh);
    expect(step.decrement).toBeCloseTo(
      step.direction.reduce((sum, value, j) => sum + value * state.gradient[j], 0),
      9,
    );
  });

  it('weighs each channel by one over what is expected there, and never by more than one over the floor', () => {
    const { matrix } = information(problem, new Float64Array(N).fill(4), null);
    expect(matrix[0]).toBeCloseTo((hi - lo) / 4, 12);
    expect(information(problem, new Float64Array(N), null).matrix[0]).toBeCloseTo((hi - lo) / FLOOR, 6);
    const prior = { precision: banded(3, Float64Array.of(7, 1, 1)), precisionMean: new Float64Array(3) };
    expect(information(problem, new Float64Array(N).fill(4), prior).matrix[0]).toBeCloseTo((hi - lo) / 4 + 7, 12);
  });
});

// What `fit/work.ts` says that each costs: a reading of strange counts ends when all of it is spent.
describe('what is spent', () => {
  const spent = (does: (costly: PoissonProblem) => unknown): number => {
    const work = new Work(1e6);
    does({ ...problem, work });
    return 1e6 - work.left;
  };

  it('is five multiplications for each channel that a column fills, where a solution stands', () => {
    const filled = bundleOf(problem.columns).filled;
    expect(filled).toBe(problem.columns.reduce((sum, { runs }) => sum + runs[1] - runs[0], 0));
    expect(spent((costly) => stateAt(costly, Float64Array.of(5, 30, 2)))).toBe(5 * filled);
  });

  it('is what meets of the pairs of columns for each channel of an information: a tenth, and more where lines span all channels', () => {
    const of = (columns: PoissonProblem['columns']): number =>
      spent((costly) => information({ ...costly, columns }, new Float64Array(N).fill(4), null));
    const narrow = columnOf(Float64Array.from({ length: N }, (_, i) => (i === lo + 2 ? 1 : 0)));
    const wide = columnOf(new Float64Array(N).fill(1));
    expect(of([narrow, narrow])).toBeCloseTo(0.1 * 4 * (hi - lo), 9);
    expect(of([wide, wide])).toBeCloseTo(4 * (hi - lo), 9);
  });

  it('is twice a sixth of the cube of the free coefficients for a factor', () => {
    const { matrix } = information(problem, new Float64Array(N).fill(4), null);
    expect(spent((costly) => factored(costly, matrix, [0, 1, 2]))).toBeCloseTo((2 * 27) / 6, 9);
    expect(spent((costly) => factored(costly, matrix, [0, 2]))).toBeCloseTo((2 * 8) / 6, 9);
  });
});

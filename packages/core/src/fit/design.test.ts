import { describe, expect, it } from 'vitest';
import { columnOf } from '../model/column.ts';
import { expectedCounts, sumRateOf, weightsOf, type Design } from './design.ts';
import { Layout, type ArtefactName } from './layout.ts';

const N = 6;
const [lo, hi] = [1, 5];
const column = columnOf(new Float64Array(N).fill(1));
const designWith = (...names: readonly ArtefactName[]): Design =>
  ({
    layout: new Layout(
      [],
      names.map((name) => ({ name, column, prior: null })),
      [],
    ),
  }) as unknown as Design;

describe('the weight of a channel', () => {
  it('is one over its expected counts and the error granted to the model', () => {
    const model = Float64Array.of(50, 100, 400, 0.1, -3, 50);
    expect([...weightsOf(model, 0, lo, hi)]).toEqual([0, 1 / 100, 1 / 400, 1 / 0.2, 1 / 0.2, 0]);
    expect(weightsOf(model, 0.1, lo, hi)[1]).toBeCloseTo(1 / (100 + 100), 12);
    expect(weightsOf(model, 0.1, lo, hi)[2]).toBeCloseTo(1 / (400 + 1600), 12);
  });

  it('is kept for a model, and made anew for another error or range', () => {
    const model = new Float64Array(N).fill(10);
    const first = weightsOf(model, 0, lo, hi);
    expect(weightsOf(model, 0, lo, hi)).toBe(first);
    expect(weightsOf(model, 0.5, lo, hi)).not.toEqual(first);
    expect(weightsOf(model, 0, lo + 1, hi)[lo]).toBe(0);
    expect(weightsOf(model, 0, lo, hi - 1)[hi - 1]).toBe(0);
    expect(weightsOf(model, 0, lo, hi)).toEqual(first);
  });
});

describe('what a model expects', () => {
  it('is above 0 inside the range and 0 outside', () => {
    const frame = { counts: new Float64Array(N), range: { lo, hi, behindHump: false } };
    const model = (value: number): number[] => [
      ...expectedCounts(designWith('charge shelf'), Float64Array.of(value), frame),
    ];
    expect(model(7)).toEqual([0, 7, 7, 7, 7, 0]);
    expect(model(-7)).toEqual([0, 0.02, 0.02, 0.02, 0.02, 0]);
  });
});

describe('the rate of sums', () => {
  it('is the coefficient of the sum peaks within what is possible, a usual one where the model has none', () => {
    const rate = (value: number): number =>
      sumRateOf(designWith('charge shelf', 'sum peaks'), Float64Array.of(0.9, value));
    expect(rate(0.01)).toBe(0.01);
    expect([rate(-1), rate(0.0009)]).toEqual([0.001, 0.001]);
    expect([rate(1), rate(0.051)]).toEqual([0.05, 0.05]);
    expect(sumRateOf(designWith('charge shelf'), Float64Array.of(0.9))).toBe(0.003);
  });
});

import { describe, expect, it } from 'vitest';
import { zOf } from '../atomic/elements.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { efficiencyTable } from '../model/efficiency-table.ts';
import { firstPlace, firstStart } from './first-start.ts';
import type { Frame } from './state.ts';

const N = 400;
const stated = { axis: { offsetEv: 0, gainEv: 20 }, noiseEv: 60 };
const { lo, hi } = { lo: 40, hi: 340 };
/** As electrons bring it, before the detector: even per channel. */
const emission = { continuum: (_: unknown, energies: Float64Array) => energies.map(() => 2) };
const start = (counts: Float64Array, more: object = emission) =>
  firstStart({ counts, range: { lo, hi }, emission: more } as unknown as Frame, stated, DEFAULT_DETECTOR);
/** Counts of the continuum as the detector sees it, so many times in each block of five channels. */
const table = efficiencyTable({ ...DEFAULT_DETECTOR, noiseEv: 60 });
const continuum = (times: (block: number) => number): Float64Array =>
  Float64Array.from({ length: N }, (_, i) =>
    i < lo || i >= hi ? 0 : times(Math.floor((i - lo) / 5)) * 2 * table.at(20 * i),
  );

describe('the weights to begin with', () => {
  const peak = new Float64Array(N);
  peak[100] = 8;
  const { model } = start(peak);

  it('are means over five channels where these hold counts, over wider stretches where they do not', () => {
    expect(model[100]).toBeCloseTo(8 / 5, 12);
    expect(model[102]).toBeCloseTo(8 / 5, 12);
    expect(model[103]).toBeCloseTo(8 / 9, 12);
    expect(model[104]).toBeCloseTo(8 / 9, 12);
    expect(model[105]).toBeCloseTo(8 / 17, 12);
    expect(model[130]).toBeCloseTo(8 / 65, 12);
    expect(model[164]).toBeCloseTo(8 / 129, 12);
    // A count at least, where there is none far and wide.
    expect(model[165]).toBeCloseTo(1 / 129, 12);
  });

  it('look at the range alone, and are none outside it', () => {
    expect(
      start(new Float64Array(N).fill(10))
        .model.subarray(lo, hi)
        .every((value) => value === 10),
    ).toBe(true);
    expect([model[lo - 1], model[hi], model[lo] > 0, model[hi - 1] > 0]).toEqual([0, 0, true, true]);
    // Fewer channels at its ends.
    expect(model[lo]).toBeCloseTo(8 / 65, 12);
    const few = new Float64Array(N);
    few[lo] = 3;
    // Three counts are too few for a mean over five channels, four are enough: three of them lie in the range.
    expect(start(few).model[lo]).toBeCloseTo((1 * 3) / 65, 12);
    few[lo] = 4;
    expect(start(few).model[lo]).toBeCloseTo(4 / 3, 12);
  });
});

describe('the level of the background to begin with', () => {
  it('is the continuum’s own where that is all', () => {
    expect(start(continuum(() => 7)).backgroundLevel).toBeCloseTo(7, 9);
  });

  it('is the lower quartile of the blocks, so that peaks do not lift it', () => {
    // 60 blocks: the sixteenth from below is taken.
    expect(start(continuum((block) => (block < 15 ? 1 : 50))).backgroundLevel).toBeCloseTo(50, 9);
    expect(start(continuum((block) => (block < 16 ? 1 : 50))).backgroundLevel).toBeCloseTo(1, 9);
  });

  it('is half the mean where few counts leave a quarter of the blocks empty, of one count at least', () => {
    const whole = continuum(() => 1).reduce((sum, value) => sum + value, 0);
    const sparse = continuum((block) => (block < 20 ? 0 : 1));
    const counted = sparse.reduce((sum, value) => sum + value, 0);
    expect(start(sparse).backgroundLevel).toBeCloseTo((0.5 * counted) / whole, 9);
    expect(start(new Float64Array(N)).backgroundLevel).toBeCloseTo(0.5 / whole, 9);
  });

  it('is 1 where the physics brings no continuum', () => {
    const none = { continuum: (_: unknown, energies: Float64Array) => energies.map(() => 0) };
    expect(
      start(
        continuum(() => 7),
        none,
      ).backgroundLevel,
    ).toBe(1);
  });
});

it('the matrix to begin with is a light one: an oxide with some carbon', () => {
  const { composition } = firstPlace(stated, DEFAULT_DETECTOR);
  expect(['C', 'O', 'Si'].map((symbol) => composition[zOf(symbol)!])).toEqual([0.3, 0.4, 0.3]);
  expect(composition.reduce((sum, value) => sum + value, 0)).toBeCloseTo(1, 12);
});

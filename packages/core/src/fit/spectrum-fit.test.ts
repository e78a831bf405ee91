import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../atomic/composition.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { fractions, hidesOxygen } from './mass-fractions.ts';
import { levelOf } from './spectrum-fit.ts';

const [O, SI, CA, PB] = [8, 14, 20, 82];
const before = massFractionsOf('SiO2');
const of = (zs: readonly number[], amounts: readonly number[], oxides?: boolean) =>
  fractions(zs, Float64Array.from(amounts), before, oxides);

describe('the matrix that amounts make', () => {
  it('is their mass fractions, and the one before where there is nothing', () => {
    const some = of([O, CA], [3, 9]);
    expect([some[O], some[CA]]).toEqual([0.25, 0.75]);
    expect(of([O, CA], [0, 0])).toBe(before);
    expect(of([], [])).toBe(before);
  });

  it('has the oxygen of usual oxides where none was seen, and only where it is asked for', () => {
    const hidden = of([SI], [1], true);
    const quartz = massFractionsOf('SiO2');
    expect(hidden[O]).toBeCloseTo(quartz[O], 9);
    expect(hidden[SI]).toBeCloseTo(quartz[SI], 9);
    expect(of([SI], [1])[O]).toBe(0);
    expect(of([SI, O], [1, 0], true)[O]).toBeCloseTo(quartz[O], 9);
    expect(of([SI, O], [3, 1], true)[O]).toBe(0.25);
    const litharge = of([PB, SI], [1, 0], true);
    expect(litharge[O]).toBeCloseTo(massFractionsOf('PbO')[O], 9);
  });

  it('hides its oxygen behind beryllium alone', () => {
    const axis = { offsetEv: 0, gainEv: 10 };
    const behind = (window: typeof DEFAULT_DETECTOR.window) =>
      hidesOxygen({ axis, detector: { ...DEFAULT_DETECTOR, window } });
    expect([behind('beryllium'), behind('polymer')]).toEqual([true, false]);
  });
});

describe('the level of a background', () => {
  it('is the median of the splines that are there, the upper one of two', () => {
    expect(levelOf(Float64Array.of(0, 7, -1, 2, 100), 5)).toBe(7);
    expect(levelOf(Float64Array.of(9, 2, 7, 100), 5)).toBe(9);
    expect(levelOf(Float64Array.of(0, -3), 5)).toBe(5);
  });
});

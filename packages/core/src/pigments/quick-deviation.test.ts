import { describe, expect, it } from 'vitest';
import type { Amount } from './evidence.ts';
import { quickDeviation as quickDeviationAt } from './promise.ts';

const quickDeviation = ({ value, counting, physics, kind }: Amount, held: number): number =>
  quickDeviationAt(value, counting, physics ** 2, kind === 'at-most' ? 1 : 0, held);
const amount = (more: Partial<Amount> = {}): Amount => ({
  ...{ symbol: 'Pb', z: 82, kind: 'measured', seen: true, value: 0.3, counting: 0.01, physics: 0.2, limit: null },
  ...more,
});
/** Both ways of being off, joined smoothly. */
const joined = (linear: number, logarithmic: number): number => 1 / (1 / linear + 1 / logarithmic);
const IMPURITY = 0.003;

describe('how far an element is from what is offered of it', () => {
  it('is nothing where as much is offered as there is, and of what others may hold, of less', () => {
    expect(quickDeviation(amount(), 0.3)).toBe(0);
    expect(quickDeviation(amount({ kind: 'at-most' }), 0.2)).toBe(0);
    expect(quickDeviation(amount({ kind: 'at-most' }), 0.3)).toBe(0);
    expect(quickDeviation(amount({ kind: 'at-most' }), 0.31)).toBeGreaterThan(0);
  });

  it('is by counting and by the logarithm, whichever is less, of too much as of too little', () => {
    const off = (Math.log(0.3 / 0.4) / 0.2) ** 2;
    expect(quickDeviation(amount(), 0.4)).toBeCloseTo(joined((0.1 / 0.01) ** 2, off), 9);
    // An impurity may make up for what is lacking, for nothing of what is too much.
    const lack = (Math.log(0.3 / 0.28) / 0.2) ** 2;
    expect(quickDeviation(amount(), 0.28)).toBeCloseTo(joined(0.02 ** 2 / (0.01 ** 2 + IMPURITY ** 2), lack), 9);
  });

  it('is by counting alone where hardly any is offered, 40 at most of what is left to a material nobody knows', () => {
    expect(quickDeviation(amount({ value: 0.04 }), 0.01)).toBeCloseTo(0.03 ** 2 / (0.01 ** 2 + IMPURITY ** 2), 9);
    expect(quickDeviation(amount(), 0)).toBe(40);
    expect(quickDeviation(amount({ physics: 0.01 }), 0.1)).toBe(40);
    expect(quickDeviation(amount({ physics: 0.01 }), 0.9)).toBeGreaterThan(40);
  });

  it('is measured from the scatter of counting where less was found than that', () => {
    const none = amount({ kind: 'not-seen', value: 0.001 });
    expect(quickDeviation(none, 0.05)).toBeCloseTo(joined((0.049 / 0.01) ** 2, (Math.log(0.01 / 0.05) / 0.2) ** 2), 9);
  });
});

import { describe, expect, it } from 'vitest';
import { evidenceOf, probabilityInside, probabilityOutside } from './thresholds.ts';

const ORDINARY = { deltaC: 36, margin: 10 };

describe('evidence', () => {
  it('of an ordinary element at its threshold is 10, the smaller of both counts', () => {
    expect(evidenceOf(36, 10, ORDINARY)).toBe(10);
    expect(evidenceOf(1000, 10, ORDINARY)).toBe(10);
    expect(evidenceOf(24, 1000, ORDINARY)).toBe(10);
    expect(evidenceOf(14, 1000, ORDINARY)).toBe(0);
  });

  it('counts for less where more is asked', () => {
    expect(evidenceOf(72, 20, { deltaC: 72, margin: 20 })).toBe(evidenceOf(36, 10, ORDINARY));
  });
});

describe('the probability of an element', () => {
  // The logistic curve that was measured: centre -5, scale 7, half a per cent of doubt at either end.
  it.each([
    [-5, 0.5],
    [-5 + 7 * Math.log(9), 0.896],
    [-5 - 7 * Math.log(9), 0.104],
    [1e4, 0.995],
    [-1e4, 0.005],
  ])('of the explanation, with evidence of %d, is %d', (evidence, probability) => {
    expect(probabilityInside(evidence)).toBeCloseTo(probability, 9);
  });

  it('outside the explanation rises with what it would gain, and falls with how rare it is', () => {
    expect(probabilityOutside(0, 0)).toBeCloseTo(1 / (1 + Math.exp(3.65)), 9);
    expect(probabilityOutside(12, 6)).toBeCloseTo(1 / (1 + Math.exp(3.65 - 0.47 * 12 + 0.185 * 6)), 9);
  });
});

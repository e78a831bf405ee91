import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MATRIX_STEP, nextMatrix, type MatrixTried } from './matrix-step.ts';

const made = (...fractions: number[]): Float64Array => Float64Array.from(fractions);
const sum = (values: Float64Array): number => values.reduce((total, value) => total + value, 0);

/** What a fit gives back where it answers a matrix that is off by so much with this part of it. */
const answering =
  (right: Float64Array, part: number) =>
  (matrix: Float64Array): MatrixTried => ({
    made: matrix,
    fitted: right.map((fraction, z) => fraction + part * (matrix[z] - fraction)),
  });

describe('the next matrix', () => {
  it('goes part of the way to what a first fit gives', () => {
    const next = nextMatrix({ made: made(0.5, 0.5), fitted: made(0.7, 0.3) }, null, 0.65);
    expect(next[0]).toBeCloseTo(0.63, 12);
    expect(next[1]).toBeCloseTo(0.37, 12);
  });

  it('is the right one after two tries, where fits answer in proportion', () => {
    const right = made(0.4, 0.12, 0.48);
    for (const part of [-0.5, -0.1, 0.2, 0.4]) {
      for (const step of [MATRIX_STEP, 1]) {
        const tried = answering(right, part);
        const first = tried(made(0.2, 0.2, 0.6));
        const second = tried(nextMatrix(first, null, step));
        const third = nextMatrix(second, first, step);
        third.forEach((fraction, z) => expect(fraction).toBeCloseTo(right[z], 12));
      }
    }
  });

  it('does not go on for ever in one direction', () => {
    // What was missing hardly changed: a line through both would go four times the step.
    const first = { made: made(0.1, 0.9), fitted: made(0.2, 0.8) };
    const second = { made: made(0.11, 0.89), fitted: made(0.208, 0.792) };
    expect(nextMatrix(second, first, 1)[0]).toBeCloseTo(0.208 + 2 * (0.208 - 0.2), 12);
  });

  it('holds fractions, whatever the tries were', () => {
    const fractions = fc
      .array(fc.double({ min: 0.001, max: 1, noNaN: true }), { minLength: 4, maxLength: 4 })
      .map((values) => Float64Array.from(values, (value) => value / values.reduce((a, b) => a + b)));
    fc.assert(
      fc.property(fractions, fractions, fractions, fractions, (a, b, c, d) => {
        const next = nextMatrix({ made: a, fitted: b }, { made: c, fitted: d }, 1);
        expect(next.every((fraction) => fraction >= 0)).toBe(true);
        expect(sum(next)).toBeCloseTo(1, 12);
      }),
    );
  });
});

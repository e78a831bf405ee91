import type { MassFractions } from '../atomic/composition.ts';

/** A matrix that a model was made with, and the mass fractions that the counts then give; both sum to 1. */
export interface MatrixTried {
  readonly made: MassFractions;
  readonly fitted: MassFractions;
}

/** Part of the way from one to the other: more of an element absorbs more of itself, so whole steps overshoot. */
export const MATRIX_STEP = 0.65;
/** Of the step from one try to the next so much at most is taken again, or taken back: two tries do not tell more. */
const MOST_AGAIN = 2;
const MOST_BACK = 0.5;

/**
 * The matrix to try next, on the way to the one that gives itself back: from two tries, as if what is missing went along a line.
 * @param before the try before, if any   @param step part of the way, above 0, at most 1
 * Source: D.G. Anderson, J. ACM 12 (1965) 547 (iteration that remembers one try; the paper's section from memory).
 */
export function nextMatrix(now: MatrixTried, before: MatrixTried | null, step: number): MassFractions {
  const again = before ? stepAgain(now, before) : 0;
  const out = now.made.map((made, z) => {
    const to = made + step * (now.fitted[z] - made);
    if (!before) return to;
    const from = before.made[z] + step * (before.fitted[z] - before.made[z]);
    return Math.max(0, to + again * (to - from));
  });
  const total = out.reduce((sum, fraction) => sum + fraction, 0);
  return out.map((fraction) => fraction / total);
}

/** How much of the last step is worth taking again: what was missing then and now, as least squares have it. */
function stepAgain(now: MatrixTried, before: MatrixTried): number {
  let product = 0;
  let square = 0;
  for (let z = 0; z < now.made.length; z++) {
    const missing = now.fitted[z] - now.made[z];
    const change = missing - (before.fitted[z] - before.made[z]);
    product += missing * change;
    square += change * change;
  }
  return square > 0 ? Math.min(MOST_AGAIN, Math.max(-MOST_BACK, -product / square)) : 0;
}

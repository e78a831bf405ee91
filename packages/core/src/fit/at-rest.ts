// When a fit whose model is made anew again and again is at rest, though something still moves. `reached` is the penalised C of each model in turn.

/** Two models that lead to each other again and again reach the same to within this, chi-square. */
const SAME_AGAIN = 0.02;

/** Whether two models have led to each other twice, and the last one explains more than the other. */
export function isBetterOfTwo(reached: readonly number[]): boolean {
  const [a, b, c, d] = reached.slice(-4);
  return reached.length >= 4 && Math.abs(a - c) < SAME_AGAIN && Math.abs(b - d) < SAME_AGAIN && d < c;
}

/**
 * From so many expansions on, a model is taken that explains the counts no worse than the last and by less than this better, chi-square; later
 * one that is as little worse as well.
 */
const NEAR_ENOUGH = { from: 6, worseFrom: 9, chiSquare: 2 } as const;

/** Whether what still moves is worth less than any verdict turns on: a matrix of look-alikes, an axis that few lines hold. */
export function isNearEnough(reached: readonly number[]): boolean {
  const [before, now] = reached.slice(-2);
  const from = now <= before ? NEAR_ENOUGH.from : NEAR_ENOUGH.worseFrom;
  return reached.length >= from && Math.abs(before - now) < NEAR_ENOUGH.chiSquare;
}

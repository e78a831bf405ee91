import { cholesky, inverseFromCholesky } from './cholesky.ts';
import type { AmountsProblem } from './eliminate.ts';

/** The best non-negative amounts of a set of elements, and what every single change of the set would do. */
export interface SubsetSolution {
  /** Members with a positive amount, ascending. */
  readonly members: readonly number[];
  /** Amounts of all m elements; 0 outside the members. */
  readonly x: Float64Array;
  /** Inverse of G over the members (k × k): the covariance of their amounts. */
  readonly covariance: Float64Array;
  /** Chi-square relative to no element at all: xᵀGx − 2bᵀx, <= 0. */
  readonly objective: number;
}

/**
 * Minimises xᵀGx − 2bᵀx over x >= 0 with x = 0 outside `allowed`. Active set: the member whose amount would turn most
 * negative leaves until none does; members that left may not return, so it ends after at most |allowed| steps.
 * (For nearly orthogonal positive templates this is the non-negative optimum; `gains` shows a caller what could return.)
 */
export function solveSubset(problem: AmountsProblem, allowed: readonly number[]): SubsetSolution {
  const { G, b, size } = problem;
  let members = [...allowed].sort((a, c) => a - c);
  for (;;) {
    const k = members.length;
    const covariance = k === 0 ? new Float64Array(0) : inverseFromCholesky(cholesky(blockOf(G, size, members), k), k);
    const amounts = new Float64Array(k);
    let worst = -1;
    for (let i = 0; i < k; i++) {
      let sum = 0;
      for (let j = 0; j < k; j++) sum += covariance[i * k + j] * b[members[j]];
      amounts[i] = sum;
      if (sum <= 0 && (worst < 0 || scaledBy(amounts, covariance, k, i) < scaledBy(amounts, covariance, k, worst)))
        worst = i;
    }
    if (worst >= 0) {
      members = members.filter((_, i) => i !== worst);
      continue;
    }
    const x = new Float64Array(size);
    let objective = 0;
    members.forEach((e, i) => {
      x[e] = amounts[i]!;
      objective -= amounts[i] * b[e];
    });
    return { members, x, covariance, objective };
  }
}

function scaledBy(amounts: Float64Array, covariance: Float64Array, k: number, i: number): number {
  return amounts[i] / Math.sqrt(covariance[i * k + i]);
}

function blockOf(G: Float64Array, size: number, members: readonly number[]): Float64Array {
  const k = members.length;
  const block = new Float64Array(k * k);
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < k; j++) block[i * k + j] = G[members[i] * size + members[j]]!;
    // A relative ridge far below any physical precision keeps identical templates from breaking the factorisation.
    block[i * k + i] *= 1 + 1e-10;
  }
  return block;
}

/** What adding each element to a solved set would bring, the others free to follow. */
export interface Gains {
  /** Fall of chi-square on adding element e, 0 where its amount would not be positive or it is a member. */
  readonly gain: Float64Array;
  /** Standard deviation of its amount when its true amount is 0. */
  readonly sigma: Float64Array;
  /** Amount it would take (may be negative). */
  readonly amount: Float64Array;
}

export function gainsOf(problem: AmountsProblem, solution: SubsetSolution): Gains {
  const { G, b, size: m } = problem;
  const { members, x, covariance } = solution;
  const k = members.length;
  const gain = new Float64Array(m);
  const sigma = new Float64Array(m).fill(Infinity);
  const amount = new Float64Array(m);
  const coupling = new Float64Array(k);
  for (let e = 0; e < m; e++) {
    const diagonal = G[e * m + e];
    if (x[e] > 0 || !(diagonal > 0)) continue;
    let slope = b[e];
    for (let i = 0; i < k; i++) {
      coupling[i] = G[e * m + members[i]]!;
      slope -= coupling[i] * x[members[i]];
    }
    let free = diagonal;
    for (let i = 0; i < k; i++) {
      if (coupling[i] === 0) continue;
      let sum = 0;
      for (let j = 0; j < k; j++) sum += covariance[i * k + j] * coupling[j];
      free -= coupling[i] * sum;
    }
    if (!(free > 1e-9 * diagonal)) continue;
    sigma[e] = 1 / Math.sqrt(free);
    amount[e] = slope / free;
    if (slope > 0) gain[e] = (slope * slope) / free;
  }
  return { gain, sigma, amount };
}

/** Rise of chi-square on removing each member (the others free to follow), aligned with `solution.members`. */
export function removalCosts(solution: SubsetSolution): Float64Array {
  const k = solution.members.length;
  return Float64Array.from(solution.members, (e, i) => solution.x[e] ** 2 / solution.covariance[i * k + i]);
}

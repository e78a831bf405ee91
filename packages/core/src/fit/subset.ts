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

/** A relative ridge far below any physical precision keeps identical templates from breaking a factorisation. */
const RIDGE = 1e-10;

/**
 * Minimises xᵀGx − 2bᵀx over x >= 0 with x = 0 outside `allowed`. Active set: the member whose amount would turn most
 * negative leaves until none does; members that left may not return, so it ends after at most |allowed| steps.
 * (For nearly orthogonal positive templates this is the non-negative optimum; `gains` shows a caller what could return.)
 */
export function solveSubset(problem: AmountsProblem, allowed: readonly number[]): SubsetSolution {
  const { G, b, size } = problem;
  const members = [...allowed].sort((a, c) => a - c);
  const k = members.length;
  const covariance = k === 0 ? new Float64Array(0) : inverseFromCholesky(cholesky(blockOf(G, size, members), k), k);
  const x = new Float64Array(size);
  for (let i = 0; i < k; i++) {
    let sum = 0;
    for (let j = 0; j < k; j++) sum += covariance[i * k + j] * b[members[j]];
    x[members[i]] = sum;
  }
  return nonNegative(problem, { members, x, covariance });
}

/** The solution with one element more (not yet a member): by bordering the inverse, without solving anew. */
export function withMember(problem: AmountsProblem, solution: SubsetSolution, e: number): SubsetSolution {
  const { G, b, size } = problem;
  const { members, covariance } = solution;
  const k = members.length;
  const coupling = new Float64Array(k);
  let slope = b[e];
  for (let i = 0; i < k; i++) {
    coupling[i] = G[e * size + members[i]]!;
    slope -= coupling[i] * solution.x[members[i]];
  }
  const along = new Float64Array(k);
  let free = G[e * size + e] * (1 + RIDGE);
  for (let i = 0; i < k; i++) {
    let sum = 0;
    for (let j = 0; j < k; j++) sum += covariance[i * k + j] * coupling[j];
    along[i] = sum;
    free -= coupling[i] * sum;
  }
  if (!(free > 0)) return solution;
  const amount = slope / free;
  const x = solution.x.slice();
  for (let i = 0; i < k; i++) x[members[i]] -= along[i] * amount;
  x[e] = amount;
  const place = members.filter((member) => member < e).length;
  const bordered = new Float64Array((k + 1) * (k + 1));
  const at = (i: number): number => (i < place ? i : i + 1);
  for (let i = 0; i < k; i++) {
    const row = at(i) * (k + 1);
    const scaled = along[i] / free;
    for (let j = 0; j < k; j++) bordered[row + at(j)] = covariance[i * k + j] + scaled * along[j];
    bordered[row + place] = -scaled;
    bordered[place * (k + 1) + at(i)] = -scaled;
  }
  bordered[place * (k + 1) + place] = 1 / free;
  return nonNegative(problem, {
    members: [...members.slice(0, place), e, ...members.slice(place)],
    x,
    covariance: bordered,
  });
}

/** The solution with the member at a place taken out, the others free to follow. */
export function withoutMember(problem: AmountsProblem, solution: SubsetSolution, place: number): SubsetSolution {
  return nonNegative(problem, removed(solution, place));
}

type Amounts = Omit<SubsetSolution, 'objective'>;

function removed({ members, x, covariance }: Amounts, place: number): Amounts {
  const k = members.length;
  const share = x[members[place]] / covariance[place * k + place];
  const rest = x.slice();
  for (let i = 0; i < k; i++) rest[members[i]] -= covariance[i * k + place] * share;
  rest[members[place]] = 0;
  const smaller = new Float64Array((k - 1) * (k - 1));
  for (let i = 0, to = 0; i < k; i++) {
    if (i === place) continue;
    const factor = covariance[i * k + place] / covariance[place * k + place];
    for (let j = 0; j < k; j++) {
      if (j !== place) smaller[to++] = covariance[i * k + j] - factor * covariance[place * k + j];
    }
  }
  return { members: members.filter((_, i) => i !== place), x: rest, covariance: smaller };
}

/** Takes out the member that is most negative for its uncertainty, until none is. */
function nonNegative({ b }: AmountsProblem, start: Amounts): SubsetSolution {
  let current = start;
  for (;;) {
    const { members, x, covariance } = current;
    const k = members.length;
    let worst = -1;
    let lowest = Infinity;
    for (let i = 0; i < k; i++) {
      const amount = x[members[i]];
      if (amount > 0) continue;
      const scaled = amount / Math.sqrt(covariance[i * k + i]);
      if (worst < 0 || scaled < lowest) [worst, lowest] = [i, scaled];
    }
    if (worst < 0) break;
    current = removed(current, worst);
  }
  let objective = 0;
  for (const e of current.members) objective -= current.x[e] * b[e];
  return { ...current, objective };
}

function blockOf(G: Float64Array, size: number, members: readonly number[]): Float64Array {
  const k = members.length;
  const block = new Float64Array(k * k);
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < k; j++) block[i * k + j] = G[members[i] * size + members[j]]!;
    block[i * k + i] *= 1 + RIDGE;
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

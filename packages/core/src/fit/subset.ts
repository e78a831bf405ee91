import { cholesky, inverseFromCholesky } from './cholesky.ts';
import type { AmountsProblem } from './eliminate.ts';
import { ascending } from '../arithmetic/order.ts';
import { copied, stretch } from '../arithmetic/stretch.ts';

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
  /** What the members leave to the others, worked out when first asked for. */
  readonly outside: { get(): Outside };
}

const NOTHING = new Float64Array(0);

/** A relative ridge far below any physical precision keeps identical templates from breaking a factorisation. */
const RIDGE = 1e-10;

/**
 * Minimises xᵀGx − 2bᵀx over x >= 0 with x = 0 outside `allowed`. Active set: the member whose amount would turn most
 * negative leaves until none does; members that left may not return, so it ends after at most |allowed| steps.
 * (For nearly orthogonal positive templates this is the non-negative optimum; `gains` shows a caller what could return.)
 */
export function solveSubset(problem: AmountsProblem, allowed: readonly number[]): SubsetSolution {
  const { G, b, size } = problem;
  const members = [...allowed].sort(ascending);
  const k = members.length;
  const covariance = k === 0 ? NOTHING : inverseFromCholesky(cholesky(blockOf(G, size, members), k), k);
  const x = stretch(size);
  for (let i = 0; i < k; i++) {
    let sum = 0;
    for (let j = 0; j < k; j++) sum += covariance[i * k + j] * b[members[j]];
    x[members[i]] = sum;
  }
  const outside = new LateOutside(problem, { members, x, covariance });
  return nonNegative(problem, { members, x, covariance, outside });
}

/** What is left of every element's information and slope once the members follow it; of members it says nothing. */
interface Outside {
  readonly slope: Float64Array;
  readonly free: Float64Array;
}

type Solved = Pick<SubsetSolution, 'members' | 'x' | 'covariance'>;

/** One element that comes to a set, or goes from it. */
interface Change {
  readonly before: SubsetSolution['outside'];
  /** Members before it. */
  readonly members: readonly number[];
  /** How the members follow the one that changes. */
  readonly along: Float64Array;
  readonly element: number;
  readonly comes: boolean;
  /** Its information with the members free to follow, and its amount. */
  readonly free: number;
  readonly amount: number;
}

/** {@link Outside}, worked out when first asked for: few of the sets that a search meets are. */
class LateOutside {
  readonly #problem: AmountsProblem;
  #from: Solved | Change | null;
  #made: Outside | null = null;

  constructor(problem: AmountsProblem, from: Solved | Change) {
    this.#problem = problem;
    this.#from = from;
  }

  get(): Outside {
    const from = this.#from;
    if (from) this.#made = 'before' in from ? outsideAfter(this.#problem, from) : outsideOf(this.#problem, from);
    this.#from = null;
    return this.#made!;
  }
}

function outsideOf({ G, b, size: m }: AmountsProblem, { members, x, covariance }: Solved): Outside {
  const k = members.length;
  const [slope, free] = [copied(b), stretch(m)];
  const coupling = stretch(k);
  for (let e = 0; e < m; e++) {
    free[e] = G[e * m + e];
    for (let i = 0; i < k; i++) {
      coupling[i] = G[e * m + members[i]];
      slope[e] -= coupling[i] * x[members[i]];
    }
    for (let i = 0; i < k; i++) {
      if (coupling[i] === 0) continue;
      let sum = 0;
      for (let j = 0; j < k; j++) sum += covariance[i * k + j] * coupling[j];
      free[e] -= coupling[i] * sum;
    }
  }
  return { slope, free };
}

/**
 * The same once the set changes by one, from what it was: each element gives up, or gets back, what it shares with the one that comes
 * or goes. Source: Golub & Van Loan, Matrix Computations, 4th ed., section 3.2.11 (Schur complements).
 */
function outsideAfter({ G, size: m }: AmountsProblem, change: Change): Outside {
  const { members, along, element, comes, amount } = change;
  const before = change.before.get();
  const [slope, free] = [copied(before.slope), copied(before.free)];
  const scale = comes ? 1 / change.free : -change.free;
  for (let e = 0; e < m; e++) {
    const row = e * m;
    let shared = comes ? G[row + element] : 0;
    for (let i = 0; i < members.length; i++) shared -= G[row + members[i]] * along[i];
    slope[e] -= shared * amount;
    free[e] -= shared * shared * scale;
  }
  // Of one that goes, what was its covariance tells.
  if (!comes) [slope[element], free[element]] = [amount, change.free];
  return { slope, free };
}

/** The solution with one element more (not yet a member): by bordering the inverse, without solving anew. */
export function withMember(problem: AmountsProblem, solution: SubsetSolution, e: number): SubsetSolution {
  const { G, b, size } = problem;
  const { members, covariance } = solution;
  const k = members.length;
  const coupling = stretch(k);
  let slope = b[e];
  for (let i = 0; i < k; i++) {
    coupling[i] = G[e * size + members[i]]!;
    slope -= coupling[i] * solution.x[members[i]];
  }
  const along = stretch(k);
  let free = G[e * size + e] * (1 + RIDGE);
  for (let i = 0; i < k; i++) {
    let sum = 0;
    for (let j = 0; j < k; j++) sum += covariance[i * k + j] * coupling[j];
    along[i] = sum;
    free -= coupling[i] * sum;
  }
  if (!(free > 0)) return solution;
  const amount = slope / free;
  const x = copied(solution.x);
  for (let i = 0; i < k; i++) x[members[i]] -= along[i] * amount;
  x[e] = amount;
  let place = 0;
  while (place < k && members[place] < e) place++;
  const bordered = stretch((k + 1) * (k + 1));
  const at = (i: number): number => (i < place ? i : i + 1);
  for (let i = 0; i < k; i++) {
    const row = at(i) * (k + 1);
    const scaled = along[i] / free;
    for (let j = 0; j < k; j++) bordered[row + at(j)] = covariance[i * k + j] + scaled * along[j];
    bordered[row + place] = -scaled;
    bordered[place * (k + 1) + at(i)] = -scaled;
  }
  bordered[place * (k + 1) + place] = 1 / free;
  const change = { before: solution.outside, members, along, element: e, comes: true, free, amount };
  return nonNegative(problem, {
    members: members.toSpliced(place, 0, e),
    x,
    covariance: bordered,
    outside: new LateOutside(problem, change),
  });
}

/** The solution with the member at a place taken out, the others free to follow. */
export function withoutMember(problem: AmountsProblem, solution: SubsetSolution, place: number): SubsetSolution {
  return nonNegative(problem, removed(problem, solution, place));
}

type Amounts = Omit<SubsetSolution, 'objective'>;

function removed(problem: AmountsProblem, { members, x, covariance, outside }: Amounts, place: number): Amounts {
  const k = members.length;
  const own = covariance[place * k + place];
  const share = x[members[place]] / own;
  const along = stretch(k);
  const rest = copied(x);
  for (let i = 0; i < k; i++) {
    along[i] = covariance[i * k + place];
    rest[members[i]] -= along[i] * share;
  }
  rest[members[place]] = 0;
  const smaller = stretch((k - 1) * (k - 1));
  for (let i = 0, to = 0; i < k; i++) {
    if (i === place) continue;
    const factor = along[i] / own;
    for (let j = 0; j < k; j++) {
      if (j !== place) smaller[to++] = covariance[i * k + j] - factor * covariance[place * k + j];
    }
  }
  const element = members[place];
  const change = { before: outside, members, along, element, comes: false, free: 1 / own, amount: share };
  return {
    members: members.toSpliced(place, 1),
    x: rest,
    covariance: smaller,
    outside: new LateOutside(problem, change),
  };
}

/** Takes out the member that is most negative for its uncertainty, until none is. */
function nonNegative(problem: AmountsProblem, start: Amounts): SubsetSolution {
  const { b } = problem;
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
    current = removed(problem, current, worst);
  }
  let objective = 0;
  for (const e of current.members) objective -= current.x[e] * b[e];
  return { ...current, objective };
}

function blockOf(G: Float64Array, size: number, members: readonly number[]): Float64Array {
  const k = members.length;
  const block = stretch(k * k);
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
  const { G, size: m } = problem;
  const { slope, free } = solution.outside.get();
  const sigma = stretch(m).fill(Infinity);
  const amount = stretch(m);
  for (let e = 0; e < m; e++) {
    if (solution.x[e] > 0 || !(free[e] > SOLVABLE * G[e * m + e])) continue;
    sigma[e] = 1 / Math.sqrt(free[e]);
    amount[e] = slope[e] / free[e];
  }
  return { gain: gainOf(problem, solution), sigma, amount };
}

/** The first of {@link Gains} alone. */
export function gainOf({ G, size: m }: AmountsProblem, { x, outside }: SubsetSolution): Float64Array {
  const { slope, free } = outside.get();
  const gain = stretch(m);
  for (let e = 0; e < m; e++) {
    if (slope[e] > 0 && !(x[e] > 0) && free[e] > SOLVABLE * G[e * m + e]) gain[e] = (slope[e] * slope[e]) / free[e];
  }
  return gain;
}

/** Part of an element's own information that the members must leave it. */
const SOLVABLE = 1e-9;

/** Rise of chi-square on removing each member (the others free to follow), aligned with `solution.members`. */
export function removalCosts(solution: SubsetSolution): Float64Array {
  const { members, x, covariance } = solution;
  const k = members.length;
  const costs = stretch(k);
  for (let i = 0; i < k; i++) costs[i] = x[members[i]] ** 2 / covariance[i * k + i];
  return costs;
}

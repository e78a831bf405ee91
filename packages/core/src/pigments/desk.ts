import { MAX_Z } from '../atomic/elements.ts';
import type { Evidence } from './evidence.ts';
import { type Figures, figuresOf } from './figures.ts';
import type { Part } from './part.ts';

/** More amounts than any evidence has, and more parts than any mixture. */
const [MOST_AMOUNTS, MOST_PARTS] = [MAX_Z + 1, 8];
/** From what is kept of one part to the same of the next. */
export const STRIDE = MOST_AMOUNTS;

/**
 * What a fit of k parts reckons on. It holds the places alone that a mixture depends on, a third of thirty amounts: what it does not hold
 * moves with none of its fractions.
 */
interface Desk {
  k: number;
  /** 1 where the mixture depends on an amount. */
  readonly wanted: Uint8Array;
  /** Places of those in the evidence, `size` of them, the first `joined` of them measured. All that follows is in their order. */
  readonly at: Int32Array;
  size: number;
  joined: number;
  readonly value: Float64Array;
  readonly counting2: Float64Array;
  readonly physics2: Float64Array;
  readonly atMost: Uint8Array;
  /** Covariances of what was measured, joined × joined; their diagonals are not used. */
  readonly counting: Float64Array;
  readonly physics: Float64Array;
  /** By part: what it holds, the variance of its logarithm, and what may come along. */
  readonly holds: Float64Array;
  readonly loose2: Float64Array;
  readonly along: Float64Array;
  /** Logarithms of the fractions, and those by which physics and spread move what is expected of each element. */
  readonly ln: Float64Array;
  readonly u: Float64Array;
  readonly state: State;
  readonly equations: Equations;
  /** What the step before asked for. */
  readonly last: Pick<Equations, 'move' | 'change'>;
}

/** What depends on the fractions, and what is expected with the physics at its most likely. */
export interface State {
  readonly fractions: Float64Array;
  /** Mass fractions that the parts hold together. */
  readonly held: Float64Array;
  /** The same, moved by u. */
  readonly amounts: Float64Array;
  /** Variance of ln(amount) by the spread of the materials. */
  readonly spread2: Float64Array;
  /** Variance of what is measured of it: counting, impurities, companions; 0 where nothing is asked of it. */
  readonly sigma2: Float64Array;
}

/** The linear equations of one step, and their normal equations. */
export interface Equations {
  /**
   * Rows of `joined` numbers: the covariance of what was measured, then the derivatives of what is expected by the logarithm of each fraction,
   * and the gap; eliminated.
   */
  readonly rows: Float64Array;
  /** The derivatives and the gap of what stands alone. */
  readonly slope: Float64Array;
  readonly gap: Float64Array;
  /** 1 / variance: of what was measured of its pivots, of what stands alone of itself; 0 where nothing is asked. */
  readonly inverses: Float64Array;
  readonly normal: Float64Array;
  /** The same matrix, damped, and the right side; eliminated. */
  readonly damped: Float64Array;
  readonly pivots: Float64Array;
  /** The step that solves it: of the logarithms of the fractions, and of the factors u. */
  readonly move: Float64Array;
  readonly change: Float64Array;
}

const numbers = (length: number): Float64Array => new Float64Array(length);
const [perPlace, perPart, perShare] = [
  () => numbers(MOST_AMOUNTS),
  () => numbers(MOST_PARTS * STRIDE),
  () => numbers(MOST_PARTS),
];

/**
 * The one desk there is: thousands of fits follow each other, none inside another. Its arrays always stay the same, which lets the engine
 * compile their places in.
 */
export const DESK: Desk = {
  k: 0,
  wanted: new Uint8Array(MOST_AMOUNTS),
  at: new Int32Array(MOST_AMOUNTS),
  size: 0,
  joined: 0,
  value: perPlace(),
  counting2: perPlace(),
  physics2: perPlace(),
  atMost: new Uint8Array(MOST_AMOUNTS),
  counting: numbers(MOST_AMOUNTS ** 2),
  physics: numbers(MOST_AMOUNTS ** 2),
  holds: perPart(),
  loose2: perPart(),
  along: perPart(),
  ln: perShare(),
  u: perPlace(),
  state: {
    fractions: perShare(),
    held: perPlace(),
    amounts: perPlace(),
    spread2: perPlace(),
    sigma2: perPlace(),
  },
  equations: {
    rows: numbers((MOST_AMOUNTS + MOST_PARTS + 1) * MOST_AMOUNTS),
    slope: perPart(),
    gap: perPlace(),
    inverses: perPlace(),
    normal: numbers(MOST_PARTS ** 2),
    damped: numbers((MOST_PARTS + 1) * MOST_PARTS),
    pivots: perShare(),
    move: perShare(),
    change: perPlace(),
  },
  last: { move: perShare(), change: perPlace() },
};

/** Lays the desk for a fit of these parts. */
export function layDesk(evidence: Evidence, parts: readonly Part[]): void {
  const figures = figuresOf(evidence);
  DESK.k = parts.length;
  choosePlaces(figures, parts);
  layFigures(figures);
  for (let a = 0; a < parts.length; a++) layPart(parts[a], a);
  const { size, k, u, equations, last } = DESK;
  for (let j = 0; j < size; j++) u[j] = last.change[j] = 0;
  for (let a = 0; a < k; a++) last.move[a] = 0;
  for (let i = 0; i < k * k; i++) equations.normal[i] = 0;
}

/** Those of which a part holds something, and those that counting ties to others. */
function choosePlaces({ joined, tied }: Figures, parts: readonly Part[]): void {
  const { wanted, at } = DESK;
  const { length } = tied;
  for (let i = 0; i < length; i++) wanted[i] = tied[i];
  for (const { places } of parts) for (let p = 0; p < places.length; p++) wanted[places[p]] = 1;
  let size = 0;
  for (let i = 0; i < length; i++) if (wanted[i] === 1 && joined[i] >= 0) at[size++] = i;
  DESK.joined = size;
  for (let i = 0; i < length; i++) if (wanted[i] === 1 && joined[i] < 0) at[size++] = i;
  DESK.size = size;
}

function layFigures(figures: Figures): void {
  const { at, size, joined: m, value, counting2, physics2, atMost, counting, physics } = DESK;
  const { joint } = figures;
  const stride = joint.places.length;
  for (let j = 0; j < size; j++) {
    const i = at[j];
    value[j] = figures.value[i];
    counting2[j] = figures.counting[i] * figures.counting[i];
    physics2[j] = figures.physics2[i];
    atMost[j] = figures.atMost[i];
  }
  for (let a = 0; a < m; a++) {
    const row = figures.joined[at[a]] * stride;
    for (let b = 0; b < m; b++) {
      const from = row + figures.joined[at[b]];
      counting[a * m + b] = joint.counting[from];
      physics[a * m + b] = joint.physics[from];
    }
  }
}

function layPart(part: Part, a: number): void {
  const { at, size, holds, loose2, along } = DESK;
  for (let j = 0, to = a * STRIDE; j < size; j++, to++) {
    const i = at[j];
    holds[to] = part.holds[i];
    loose2[to] = part.loose[i] * part.loose[i];
    along[to] = part.along[i];
  }
}

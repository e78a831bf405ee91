import type { Evidence } from './evidence.ts';
import { type Figures, figuresOf } from './figures.ts';
import type { Part } from './part.ts';

/**
 * What fits of k parts reckon on. It holds the places alone that a mixture depends on, a third of thirty amounts: what it does not hold
 * moves with none of its fractions.
 */
export interface Desk {
  readonly figures: Figures;
  readonly k: number;
  /** Length of a row of what is kept by part. */
  readonly stride: number;
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

/** By the number of parts. */
const DESKS = new WeakMap<Evidence, Desk[]>();

/** A desk laid for a fit of these parts. There is one for each number of parts: thousands of fits follow each other, none inside another. */
export function deskFor(evidence: Evidence, parts: readonly Part[]): Desk {
  let desks = DESKS.get(evidence);
  if (desks === undefined) DESKS.set(evidence, (desks = []));
  const desk = (desks[parts.length] ??= emptyDesk(figuresOf(evidence), parts.length));
  choosePlaces(desk, parts);
  layFigures(desk);
  for (let a = 0; a < parts.length; a++) layPart(desk, parts[a], a);
  desk.u.fill(0);
  desk.equations.normal.fill(0);
  desk.last.move.fill(0);
  desk.last.change.fill(0);
  return desk;
}

function emptyDesk(figures: Figures, k: number): Desk {
  const n = figures.value.length;
  const m = figures.joint.places.length;
  const numbers = (length: number): Float64Array => new Float64Array(length);
  const [perPlace, perPart, perPair] = [() => numbers(n), () => numbers(k * n), () => numbers(m * m)];
  return {
    figures,
    k,
    stride: n,
    wanted: new Uint8Array(n),
    at: new Int32Array(n),
    size: 0,
    joined: 0,
    value: perPlace(),
    counting2: perPlace(),
    physics2: perPlace(),
    atMost: new Uint8Array(n),
    counting: perPair(),
    physics: perPair(),
    holds: perPart(),
    loose2: perPart(),
    along: perPart(),
    ln: numbers(k),
    u: perPlace(),
    state: {
      fractions: numbers(k),
      held: perPlace(),
      amounts: perPlace(),
      spread2: perPlace(),
      sigma2: perPlace(),
    },
    equations: {
      rows: numbers((m + k + 1) * m),
      slope: perPart(),
      gap: perPlace(),
      inverses: perPlace(),
      normal: numbers(k * k),
      damped: numbers((k + 1) * k),
      pivots: numbers(k),
      move: numbers(k),
      change: perPlace(),
    },
    last: { move: numbers(k), change: perPlace() },
  };
}

/** Those of which a part holds something, and those that counting ties to others. */
function choosePlaces(desk: Desk, parts: readonly Part[]): void {
  const { wanted, at, figures } = desk;
  const { joined, tied } = figures;
  wanted.set(tied);
  for (const { places } of parts) for (let p = 0; p < places.length; p++) wanted[places[p]] = 1;
  let size = 0;
  for (let i = 0; i < wanted.length; i++) if (wanted[i] === 1 && joined[i] >= 0) at[size++] = i;
  desk.joined = size;
  for (let i = 0; i < wanted.length; i++) if (wanted[i] === 1 && joined[i] < 0) at[size++] = i;
  desk.size = size;
}

function layFigures(desk: Desk): void {
  const { figures, at, size, joined: m, value, counting2, physics2, atMost, counting, physics } = desk;
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

function layPart({ at, size, stride, holds, loose2, along }: Desk, part: Part, a: number): void {
  for (let j = 0; j < size; j++) {
    const i = at[j];
    holds[a * stride + j] = part.holds[i];
    loose2[a * stride + j] = part.loose[i] * part.loose[i];
    along[a * stride + j] = part.along[i];
  }
}

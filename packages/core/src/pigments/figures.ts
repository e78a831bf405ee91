import type { Evidence } from './evidence.ts';
import type { Joint } from './joint.ts';

/** The evidence as fits reckon with it: arrays over its amounts. */
export interface Figures {
  readonly value: Float64Array;
  /** Standard deviation by counting and by faults of the model. */
  readonly counting: Float64Array;
  /** Variance of ln(amount) by the physics. */
  readonly physics2: Float64Array;
  /** 1 where rivals, mounting or medium may hold it as well. */
  readonly atMost: Uint8Array;
  readonly joint: Joint;
  /** Place of each in `joint`, -1 for what stands alone. */
  readonly joined: Int16Array;
  /** 1 where counting ties it to another. */
  readonly tied: Uint8Array;
}

const FIGURES = new WeakMap<Evidence, Figures>();

export function figuresOf(evidence: Evidence): Figures {
  let figures = FIGURES.get(evidence);
  if (figures === undefined) FIGURES.set(evidence, (figures = madeFigures(evidence)));
  return figures;
}

function madeFigures({ amounts, joint }: Evidence): Figures {
  const { places, counting } = joint;
  const m = places.length;
  const joined = new Int16Array(amounts.length).fill(-1);
  const tied = new Uint8Array(amounts.length);
  for (let a = 0; a < m; a++) {
    joined[places[a]] = a;
    for (let b = 0; b < m; b++) if (a !== b && counting[a * m + b] !== 0) tied[places[a]] = 1;
  }
  return {
    value: Float64Array.from(amounts, ({ value }) => value),
    counting: Float64Array.from(amounts, ({ counting }) => counting),
    physics2: Float64Array.from(amounts, ({ physics }) => physics ** 2),
    atMost: Uint8Array.from(amounts, ({ kind }) => (kind === 'at-most' ? 1 : 0)),
    joint,
    joined,
    tied,
  };
}

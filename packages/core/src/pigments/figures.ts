import type { Evidence } from './evidence.ts';
import type { Joint } from './joint.ts';
import type { Part } from './part.ts';

/** The evidence as fits reckon with it: arrays over its amounts. */
export interface Figures {
  readonly value: Float64Array;
  readonly counting: Float64Array;
  /** Variance of ln(amount) by the physics. */
  readonly physics2: Float64Array;
  /** 1 where rivals, mounting or medium may hold it as well. */
  readonly atMost: Uint8Array;
  readonly joint: Joint;
  /** All places, and 1 at those that were measured. */
  readonly all: Int32Array;
  readonly measured: Uint8Array;
}

export function figuresOf({ amounts, joint }: Evidence): Figures {
  const measured = new Uint8Array(amounts.length);
  for (const i of joint.places) measured[i] = 1;
  return {
    value: Float64Array.from(amounts, ({ value }) => value),
    counting: Float64Array.from(amounts, ({ counting }) => counting),
    physics2: Float64Array.from(amounts, ({ physics }) => physics ** 2),
    atMost: Uint8Array.from(amounts, ({ kind }) => (kind === 'at-most' ? 1 : 0)),
    joint,
    all: Int32Array.from(amounts.keys()),
    measured,
  };
}

/** Places that the amounts of some parts depend on: what they hold, and all that was measured, as it hangs together. */
export function placesOf({ all, measured }: Figures, parts: readonly Part[]): Int32Array {
  const wanted = measured.slice();
  for (const { places } of parts) for (const i of places) wanted[i] = 1;
  return all.filter((i) => wanted[i]);
}

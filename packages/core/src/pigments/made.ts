import { zOf } from '../atomic/elements.ts';
import { LIGHTEST_TELLING_Z } from './evidence.ts';
import type { Material } from './knowledge.ts';

/** A telling part of the composition that is not required may be missing: a factor of e either way is one standard deviation. Chosen. */
const NOT_REQUIRED = 1;
/** A material with less than this of all telling elements together leaves no trace of its own. */
const LEAST_TELLING = 0.002;

/** A material by atomic numbers. */
export interface Made {
  /** What it holds, ascending. */
  readonly of: readonly number[];
  /** Standard deviation of the logarithm of each of these between specimens. */
  readonly loose: readonly number[];
  readonly companions: readonly number[];
  /** What it requires and what tells. */
  readonly telling: readonly number[];
  /** All of it that tells, required or not, as part of its mass. */
  readonly tellingPart: number;
}

const MADE = new WeakMap<Material, Made>();

export function madeOf(material: Material): Made {
  let made = MADE.get(material);
  if (made === undefined) MADE.set(material, (made = makeOf(material)));
  return made;
}

function makeOf({ required, fractions, companions, spread }: Material): Made {
  const needed = required.map((symbol) => zOf(symbol)!);
  const of = [...fractions.keys()].filter((z) => z > 0 && fractions[z] !== 0);
  return {
    of,
    // What is required, or does not tell anyway, is there.
    loose: of.map((z) => (needed.includes(z) || z < LIGHTEST_TELLING_Z ? spread : Math.max(NOT_REQUIRED, spread))),
    companions: companions.map((symbol) => zOf(symbol)!),
    telling: needed.filter((z) => z >= LIGHTEST_TELLING_Z),
    tellingPart: fractions.reduce((sum, value, z) => (z < LIGHTEST_TELLING_Z ? sum : sum + value), 0),
  };
}

/** Holds something that resin, medium and coating do not bring as well. */
export function isTellingMaterial(material: Material): boolean {
  return madeOf(material).tellingPart > LEAST_TELLING;
}

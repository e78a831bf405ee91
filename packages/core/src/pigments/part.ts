import { exp } from '../arithmetic/exponential.ts';
import { zOf } from '../atomic/elements.ts';
import { type Amount, type Evidence, LIGHTEST_TELLING_Z } from './evidence.ts';
import type { Material } from './knowledge.ts';
import { lnPriorOf } from './priors.ts';
import { stretch } from '../arithmetic/stretch.ts';

/** A material as the evidence sees it: arrays over the evidence's amounts. */
export interface Part {
  readonly material: Material;
  /** Mass fraction of each element in the pure material; 1 for the whole. */
  readonly holds: Float64Array;
  /** Where it holds something, ascending. */
  readonly places: Int32Array;
  /** Standard deviation of ln(holds) between specimens of the material. */
  readonly loose: Float64Array;
  /** What else each element may bring along, as part of the material's mass. */
  readonly along: Float64Array;
  /** How much of the material its scarcest element leaves room for. */
  readonly room: Room;
  /** Of what it requires and what tells, no element is sure: some are open, the others hidden. */
  readonly restsOnOpen: boolean;
  /** Prior of the material as one more part of a grain. */
  readonly lnPrior: number;
}

export interface Room {
  /** Largest mass fraction in what was analysed, with two standard deviations granted. */
  readonly most: number;
  /** The element that sets it; null where only the whole does. */
  readonly scarcest: Amount | null;
}

/** A telling part of the composition that is not required may be missing: a factor of e either way is one standard deviation. Chosen. */
const NOT_REQUIRED = 1;
/** Companions, as part of the material's mass, one standard deviation: an element that makes up a hundredth more is another material's. Chosen. */
const COMPANION = 0.005;
/** Standard deviations granted to an amount before it bounds a material. */
const GRANTED = 2;
/** A material with less than this of all telling elements together leaves no trace of its own. */
const LEAST_TELLING = 0.002;

/** A material by atomic numbers. */
interface Made {
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

function madeOf(material: Material): Made {
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

/** What of a material the evidence speaks of. */
export function partOf(material: Material, { amounts, place }: Evidence): Part {
  const made = madeOf(material);
  const { of, companions, telling } = made;
  const [holds, loose, along] = [stretch(amounts.length), stretch(amounts.length), stretch(amounts.length)];
  holds[0] = 1;
  let known = 1;
  for (const z of of) if (place[z] >= 0) known++;
  const places = new Int32Array(known);
  let [most, next] = [1, 1];
  let scarcest: Amount | null = null;
  for (let k = 0; k < of.length; k++) {
    const i = place[of[k]];
    if (i < 0) continue;
    places[next++] = i;
    holds[i] = material.fractions[of[k]];
    loose[i] = made.loose[k];
    const own = roomBy(amounts[i], holds[i], loose[i], most);
    if (own < most) [most, scarcest] = [own, amounts[i]];
  }
  for (const z of companions) if (place[z] > 0) along[place[z]] = COMPANION;
  return {
    material,
    holds,
    places,
    loose,
    along,
    room: { most, scarcest },
    restsOnOpen: restOnOpen(telling, amounts, place),
    lnPrior: lnPriorOf(material, (z) => place[z] >= 0 && amounts[place[z]].kind !== 'not-seen'),
  };
}

/** How much of a material an element leaves room for; anything more than `enough` where that is sure to be more. */
function roomBy({ value, counting, physics }: Amount, holds: number, loose: number, enough: number): number {
  const least = (value + GRANTED * counting) / holds;
  return least > enough ? least : least * exp(GRANTED * Math.sqrt(physics * physics + loose * loose));
}

function restOnOpen(telling: readonly number[], amounts: readonly Amount[], place: Int16Array): boolean {
  let open = 0;
  for (const z of telling) {
    if (place[z] < 0) continue;
    if (amounts[place[z]].kind !== 'at-most') return false;
    open++;
  }
  return open > 0;
}

/** Holds something that resin, medium and coating do not bring as well. */
export function isTellingMaterial(material: Material): boolean {
  return madeOf(material).tellingPart > LEAST_TELLING;
}

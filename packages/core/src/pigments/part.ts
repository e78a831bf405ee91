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
  /** Whether each of these is required, or does not tell anyway. */
  readonly firm: readonly boolean[];
  readonly companions: readonly number[];
  /** What it requires and what tells. */
  readonly telling: readonly number[];
}

const MADE = new WeakMap<Material, Made>();

function madeOf(material: Material): Made {
  const known = MADE.get(material);
  if (known) return known;
  const required = material.required.map((symbol) => zOf(symbol)!);
  const of = [...material.fractions.keys()].filter((z) => z > 0 && material.fractions[z] !== 0);
  const made = {
    of,
    firm: of.map((z) => required.includes(z) || z < LIGHTEST_TELLING_Z),
    companions: material.companions.map((symbol) => zOf(symbol)!),
    telling: required.filter((z) => z >= LIGHTEST_TELLING_Z),
  };
  MADE.set(material, made);
  return made;
}

/** What of a material the evidence speaks of. */
export function partOf(material: Material, { amounts, place }: Evidence): Part {
  const { of, firm, companions, telling } = madeOf(material);
  const holds = stretch(amounts.length);
  const loose = stretch(amounts.length);
  const along = stretch(amounts.length);
  const places = [0];
  let most = 1;
  let scarcest: Amount | null = null;
  holds[0] = 1;
  for (const z of companions) if (place[z] > 0) along[place[z]] = COMPANION;
  for (let k = 0; k < of.length; k++) {
    const i = place[of[k]];
    if (i < 0) continue;
    holds[i] = material.fractions[of[k]];
    loose[i] = firm[k] ? material.spread : Math.max(NOT_REQUIRED, material.spread);
    places.push(i);
    const own = roomBy(amounts[i], holds[i], loose[i]);
    if (own < most) [most, scarcest] = [own, amounts[i]];
  }
  const known = telling.filter((z) => place[z] >= 0);
  return {
    material,
    holds,
    places: Int32Array.from(places),
    loose,
    along,
    room: { most, scarcest },
    restsOnOpen: known.length > 0 && known.every((z) => amounts[place[z]].kind === 'at-most'),
    lnPrior: lnPriorOf(material, (z) => (amounts[place[z]]?.kind ?? 'not-seen') !== 'not-seen'),
  };
}

function roomBy({ value, counting, physics }: Amount, holds: number, loose: number): number {
  return ((value + GRANTED * counting) * exp(GRANTED * Math.hypot(physics, loose))) / holds;
}

/** Holds something that resin, medium and coating do not bring as well. */
export function isTellingMaterial({ fractions }: Material): boolean {
  return fractions.reduce((sum, value, z) => (z < LIGHTEST_TELLING_Z ? sum : sum + value), 0) > LEAST_TELLING;
}

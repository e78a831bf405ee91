import { exp } from '../arithmetic/exponential.ts';
import { zOf } from '../atomic/elements.ts';
import { type Amount, type Evidence, LIGHTEST_TELLING_Z } from './evidence.ts';
import type { Material } from './knowledge.ts';
import { lnPriorOf } from './priors.ts';

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

/** What of a material the evidence speaks of. */
export function partOf(material: Material, { amounts, place }: Evidence): Part {
  const required = new Set(material.required.map(zOf));
  const holds = new Float64Array(amounts.length);
  const loose = new Float64Array(amounts.length);
  const along = new Float64Array(amounts.length);
  let room: Room = { most: 1, scarcest: null };
  const seen = (z: number): boolean => (amounts[place[z]]?.kind ?? 'not-seen') !== 'not-seen';
  holds[0] = 1;
  for (const symbol of material.companions) if (place[zOf(symbol)!] > 0) along[place[zOf(symbol)!]] = COMPANION;
  for (let z = 1; z < place.length; z++) {
    const i = place[z];
    if (i < 0 || material.fractions[z] === 0) continue;
    holds[i] = material.fractions[z];
    const firm = required.has(z) || z < LIGHTEST_TELLING_Z;
    loose[i] = firm ? material.spread : Math.max(NOT_REQUIRED, material.spread);
    const most = roomBy(amounts[i], holds[i], loose[i]);
    if (most < room.most) room = { most, scarcest: amounts[i] };
  }
  const places = Int32Array.from(holds.keys()).filter((i) => holds[i] > 0);
  const restsOnOpen = isOpen(material, amounts, place);
  return { material, holds, places, loose, along, room, restsOnOpen, lnPrior: lnPriorOf(material, seen) };
}

function isOpen({ required }: Material, amounts: readonly Amount[], place: Int16Array): boolean {
  const places = required.map((symbol) => zOf(symbol)!).filter((z) => z >= LIGHTEST_TELLING_Z && place[z] >= 0);
  return places.length > 0 && places.every((z) => amounts[place[z]].kind === 'at-most');
}

function roomBy({ value, counting, physics }: Amount, holds: number, loose: number): number {
  return ((value + GRANTED * counting) * exp(GRANTED * Math.hypot(physics, loose))) / holds;
}

/** Holds something that resin, medium and coating do not bring as well. */
export function isTellingMaterial({ fractions }: Material): boolean {
  return fractions.reduce((sum, value, z) => (z < LIGHTEST_TELLING_Z ? sum : sum + value), 0) > LEAST_TELLING;
}

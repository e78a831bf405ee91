import type { Amount, Evidence } from './evidence.ts';
import type { Material } from './knowledge.ts';
import { madeOf } from './made.ts';
import { lnPriorOf } from './priors.ts';
import { type Room, roomOf } from './room.ts';
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

/** Companions, as part of the material's mass, one standard deviation: an element that makes up a hundredth more is another material's. Chosen. */
const COMPANION = 0.005;

/** What of a material the evidence speaks of. */
export function partOf(material: Material, evidence: Evidence): Part {
  const { amounts, place } = evidence;
  const made = madeOf(material);
  const { of, companions, telling } = made;
  const [holds, loose, along] = [stretch(amounts.length), stretch(amounts.length), stretch(amounts.length)];
  holds[0] = 1;
  let known = 1;
  for (const z of of) if (place[z] >= 0) known++;
  const places = new Int32Array(known);
  let next = 1;
  for (let k = 0; k < of.length; k++) {
    const i = place[of[k]];
    if (i < 0) continue;
    places[next++] = i;
    holds[i] = material.fractions[of[k]];
    loose[i] = made.loose[k];
  }
  for (const z of companions) if (place[z] > 0) along[place[z]] = COMPANION;
  return {
    material,
    holds,
    places,
    loose,
    along,
    room: roomOf(material, evidence),
    restsOnOpen: restOnOpen(telling, amounts, place),
    lnPrior: lnPriorOf(material, (z) => place[z] >= 0 && amounts[place[z]].kind !== 'not-seen'),
  };
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

import { exp } from '../arithmetic/exponential.ts';
import { type Amount, type Evidence, LIGHTEST_TELLING_Z } from './evidence.ts';
import type { Material } from './knowledge.ts';
import { madeOf } from './made.ts';

/** What the evidence leaves room for of a material. */
export interface Room {
  /** Largest mass fraction in what was analysed, with two standard deviations granted. */
  readonly most: number;
  /** The element that sets it; null where only the whole does. */
  readonly scarcest: Amount | null;
}

/** Standard deviations granted to an amount before it bounds a material. */
const GRANTED = 2;
/** Part of an element's amount that a material must be able to hold to be worth trying. */
const WORTH_HOLDING = 0.3;

/** How much of the material its scarcest element leaves room for. */
export function roomOf(material: Material, { amounts, place }: Evidence): Room {
  const { of, loose } = madeOf(material);
  let most = 1;
  let scarcest: Amount | null = null;
  for (let k = 0; k < of.length; k++) {
    const i = place[of[k]];
    if (i < 0) continue;
    const own = roomBy(amounts[i], material.fractions[of[k]], loose[k], most);
    if (own < most) [most, scarcest] = [own, amounts[i]];
  }
  return { most, scarcest };
}

/** How much of a material an element leaves room for; anything more than `enough` where that is sure to be more. */
function roomBy({ value, counting, physics }: Amount, holds: number, loose: number, enough: number): number {
  const least = (value + GRANTED * counting) / holds;
  return least > enough ? least : least * exp(GRANTED * Math.sqrt(physics * physics + loose * loose));
}

/** Whether so much of a material could hold a fair part of any telling element that something is seen of. */
export function isWorthTrying(material: Material, room: Room, { amounts, place }: Evidence): boolean {
  for (const z of madeOf(material).of) {
    if (z < LIGHTEST_TELLING_Z || place[z] < 0) continue;
    const { kind, value, physics } = amounts[place[z]];
    if (kind === 'not-seen') continue;
    const most = room.most * material.fractions[z];
    if (most > WORTH_HOLDING * value || most * exp(physics) > WORTH_HOLDING * value) return true;
  }
  return false;
}

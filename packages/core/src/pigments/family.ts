import { exp } from '../arithmetic/exponential.ts';
import { zOf } from '../atomic/elements.ts';
import { LIGHTEST_TELLING_Z } from './evidence.ts';
import { knownLookalikes, type Material } from './knowledge.ts';

/** Ratios of elements nearer than this factor are one: two standard deviations of a standardless ratio, 25 % (common practice, no source). */
const SAME_RATIO = 1.65;
/** Part of a material's mass from which an element shows that is not required. Chosen. */
const SHOWN = 0.1;
const [SULFUR, LEAD] = [zOf('S')!, zOf('Pb')!];

interface Shown {
  /** Mass fraction of each element by which a material shows. */
  readonly of: ReadonlyMap<number, number>;
  /** Those elements; without sulfur where lead is among them. */
  readonly key: string;
}
const SHOWN_OF = new WeakMap<Material, Shown>();

/** Two materials that no spectrum splits: they show the same elements, in ratios within their spreads or by what the trade says. */
export function areFamily(one: Material, other: Material): boolean {
  if (one === other || areTypesOfOne(one, other)) return true;
  const [a, b] = [shownOf(one), shownOf(other)];
  if (a.of.size === 0 || a.key !== b.key) return false;
  let [least, most] = [Infinity, 0];
  for (const [z, part] of a.of) {
    if (z === SULFUR && a.of.has(LEAD)) continue;
    const ratio = part / b.of.get(z)!;
    [least, most] = [Math.min(least, ratio), Math.max(most, ratio)];
  }
  const within = SAME_RATIO * exp(2 * Math.hypot(one.spread, other.spread));
  return most / least < within || knownLookalikes(one.id).has(other.id);
}

/**
 * Types of one pigment, 'Green earth, celadonite' and 'Green earth, glauconite', where the trade says that elements cannot tell them apart:
 * what splits them a neighbour may hold as well.
 */
function areTypesOfOne(one: Material, other: Material): boolean {
  return knownLookalikes(one.id).has(other.id) && one.class === other.class && pigmentOf(one) === pigmentOf(other);
}

const pigmentOf = ({ name }: Material): string => name.split(',')[0];

/** For each of these materials the places among them of those of its family, itself as well. */
export function familiesAmong(materials: readonly Material[]): number[][] {
  const placeOf = new Map<string, number>();
  const showing = new Map<string, number[]>();
  for (let place = 0; place < materials.length; place++) {
    placeOf.set(materials[place].id, place);
    const { key } = shownOf(materials[place]);
    const same = showing.get(key);
    if (same) same.push(place);
    else showing.set(key, [place]);
  }
  // Materials of a family show the same elements, or the trade says that they are alike.
  const families: number[][] = [];
  for (const material of materials) {
    const { key } = shownOf(material);
    const family: number[] = [];
    for (const place of showing.get(key)!) if (areFamily(material, materials[place])) family.push(place);
    for (const id of knownLookalikes(material.id)) {
      const place = placeOf.get(id);
      if (place === undefined || shownOf(materials[place]).key === key) continue;
      if (areFamily(material, materials[place])) family.push(place);
    }
    families.push(family);
  }
  return families;
}

/** Part of a material's mass from which an element that it holds may hide another material of that element. Chosen. */
const HIDING = 0.005;

/** The elements beside which a material of them alone may hide: those of these materials, and sulfur where lead is among them. */
export function hidingIn(materials: readonly Material[]): ReadonlySet<number> {
  const own = new Set<number>();
  for (const { fractions } of materials)
    for (let z = 0; z < fractions.length; z++) if (fractions[z] > HIDING) own.add(z);
  if (own.has(LEAD)) own.add(SULFUR);
  return own;
}

/** Whether all elements by which it shows are among these. */
export function hidesIn(material: Material, elements: ReadonlySet<number>): boolean {
  const { of } = shownOf(material);
  for (const z of of.keys()) if (!elements.has(z)) return false;
  return of.size > 0;
}

function shownOf(material: Material): Shown {
  const known = SHOWN_OF.get(material);
  if (known) return known;
  const needed = new Set(material.required.map((symbol) => zOf(symbol)!));
  const of = new Map<number, number>();
  material.fractions.forEach((part, z) => {
    if (z >= LIGHTEST_TELLING_Z && part > 0 && (needed.has(z) || part > SHOWN)) of.set(z, part);
  });
  // Sulfur lies under the M lines of lead: it splits no two materials of lead.
  const key = [...of.keys()].filter((z) => z !== SULFUR || !of.has(LEAD)).join();
  const shown = { of, key };
  SHOWN_OF.set(material, shown);
  return shown;
}

import { exp } from '../arithmetic/exponential.ts';
import { zOf } from '../atomic/elements.ts';
import { LIGHTEST_TELLING_Z } from './evidence.ts';
import { knownLookalikes, type Material } from './knowledge.ts';

/** Ratios of elements nearer than this factor are one: two standard deviations of a standardless ratio, 25 % (common practice, no source). */
const SAME_RATIO = 1.65;
/** Part of a material's mass from which an element shows that is not required. Chosen. */
const SHOWN = 0.1;
const [SULFUR, LEAD] = [zOf('S')!, zOf('Pb')!];

type Shown = ReadonlyMap<number, number>;
const SHOWN_OF = new WeakMap<Material, Shown>();

/** Two materials that no spectrum splits: they show the same elements, in ratios within their spreads or by what the trade says. */
export function areFamily(one: Material, other: Material): boolean {
  if (one === other || areTypesOfOne(one, other)) return true;
  const [a, b] = [shownOf(one), shownOf(other)];
  // Sulfur lies under the M lines of lead: it splits no two materials of lead.
  const hidden = a.has(LEAD) && b.has(LEAD) ? SULFUR : null;
  if (a.size === 0 || !holdsAll(a, b, hidden) || !holdsAll(b, a, hidden)) return false;
  let [least, most] = [Infinity, 0];
  for (const [z, part] of a) {
    if (z === hidden) continue;
    const ratio = part / b.get(z)!;
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
  const pigmentOf = ({ name }: Material): string => name.split(',')[0];
  return pigmentOf(one) === pigmentOf(other) && one.class === other.class && knownLookalikes(one.id).has(other.id);
}

function holdsAll(a: Shown, b: Shown, hidden: number | null): boolean {
  for (const z of b.keys()) if (z !== hidden && !a.has(z)) return false;
  return true;
}

/** Part of a material's mass from which an element that it holds may hide another material of that element. Chosen. */
const HIDING = 0.005;

/** The elements beside which a material of them alone may hide: those of these materials, and sulfur where lead is among them. */
export function hidingIn(materials: readonly Material[]): ReadonlySet<number> {
  const own = new Set<number>();
  for (const { fractions } of materials) fractions.forEach((part, z) => part > HIDING && own.add(z));
  if (own.has(LEAD)) own.add(SULFUR);
  return own;
}

/** Whether all elements by which it shows are among these. */
export function hidesIn(material: Material, elements: ReadonlySet<number>): boolean {
  const shown = shownOf(material);
  return shown.size > 0 && [...shown.keys()].every((z) => elements.has(z));
}

/** Mass fraction of each element by which a material shows. */
function shownOf(material: Material): Shown {
  const known = SHOWN_OF.get(material);
  if (known) return known;
  const needed = new Set(material.required.map((symbol) => zOf(symbol)!));
  const shown = new Map<number, number>();
  material.fractions.forEach((part, z) => {
    if (z >= LIGHTEST_TELLING_Z && part > 0 && (needed.has(z) || part > SHOWN)) shown.set(z, part);
  });
  SHOWN_OF.set(material, shown);
  return shown;
}

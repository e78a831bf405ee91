import { exp } from '../arithmetic/exponential.ts';
import { zOf } from '../atomic/elements.ts';
import { LIGHTEST_TELLING_Z } from './evidence.ts';
import { knownLookalikes, type Material } from './knowledge.ts';

/** Ratios of elements nearer than this factor are one: two standard deviations of a standardless ratio, 25 % (common practice, no source). */
const SAME_RATIO = 1.65;
/** Part of a material's mass from which an element shows that is not required. Chosen. */
const SHOWN = 0.1;
const [SULFUR, LEAD] = [zOf('S')!, zOf('Pb')!];

const FAMILIES = new WeakMap<Material, WeakMap<Material, boolean>>();

/** Two materials that no spectrum splits: they show the same elements, in ratios within their spreads or by what the trade says. */
export function areFamily(one: Material, other: Material): boolean {
  if (one === other) return true;
  const known = FAMILIES.get(one) ?? new WeakMap<Material, boolean>();
  FAMILIES.set(one, known);
  const answer = known.get(other) ?? showAlike(one, other);
  known.set(other, answer);
  return answer;
}

function showAlike(one: Material, other: Material): boolean {
  const [a, b] = [shownOf(one), shownOf(other)];
  // Sulfur lies under the M lines of lead: it splits no two materials of lead.
  if (a.has(LEAD) && b.has(LEAD)) for (const shown of [a, b]) shown.delete(SULFUR);
  if (a.size === 0 || a.size !== b.size || [...a.keys()].some((z) => !b.has(z))) return false;
  const ratios = [...a].map(([z, part]) => part / b.get(z)!);
  const within = SAME_RATIO * exp(2 * Math.hypot(one.spread, other.spread));
  return Math.max(...ratios) / Math.min(...ratios) < within || knownLookalikes(one.id).has(other.id);
}

/** Mass fraction of each element by which a material shows. */
function shownOf({ fractions, required }: Material): Map<number, number> {
  const needed = new Set(required.map((symbol) => zOf(symbol)!));
  return new Map(
    Array.from(fractions.entries()).filter(
      ([z, part]) => z >= LIGHTEST_TELLING_Z && part > 0 && (needed.has(z) || part > SHOWN),
    ),
  );
}

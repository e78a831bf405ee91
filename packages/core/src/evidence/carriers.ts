import type { Material } from '../pigments/knowledge.ts';
import { opticsOf } from '../pigments/optics-table.ts';
import type { Colour } from '../pigments/optics-words.ts';

/** A material of an explanation, with its share of what was analysed. */
export interface PartSeen {
  readonly material: Pick<Material, 'id'>;
  readonly massFraction: number;
}

/** A part above this share of the materials shows in the grain, whatever gives it its colour. */
export const SHOWS_FROM = 0.1;

/** The colour that a grain of it has as a rule; null where that is not known. */
export const usualColour = (id: string): Colour | null => opticsOf(id).colour?.value[0] ?? null;

/** White or clear as a rule: it gives no colour, and takes none away. */
export function isColourless(id: string): boolean {
  const usual = usualColour(id);
  return usual === 'white' || usual === 'colourless';
}

/** Parts that the eye meets: the one that gives the colour, which is the largest that is not white, and all above a tenth. */
export function shownParts<Part extends PartSeen>(parts: readonly Part[]): Part[] {
  const whole = parts.reduce((sum, { massFraction }) => sum + massFraction, 0);
  const coloured = parts.filter(({ material }) => !isColourless(material.id));
  const most = Math.max(...coloured.map(({ massFraction }) => massFraction));
  const gives = coloured.find(({ massFraction }) => massFraction === most);
  return parts.filter((part) => part === gives || part.massFraction > SHOWS_FROM * whole);
}

/** What grains of two colours side by side look like from further away. Common practice, no source. */
const MIXED: readonly (readonly [seen: Colour, one: Colour, other: Colour])[] = [
  ['green', 'yellow', 'blue'],
  ['orange', 'yellow', 'red'],
  ['violet', 'red', 'blue'],
  ['pink', 'red', 'white'],
  ['grey', 'black', 'white'],
  ['brown', 'black', 'red'],
  ['brown', 'black', 'orange'],
  ['brown', 'black', 'yellow'],
];

/** Whether two of these parts together look like what was seen. */
export function mixesTo(seen: string, parts: readonly PartSeen[]): boolean {
  const usual = new Set(parts.map(({ material }) => usualColour(material.id)));
  return MIXED.some(([colour, one, other]) => colour === seen && usual.has(one) && usual.has(other));
}

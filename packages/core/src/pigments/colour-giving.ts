import type { Material } from './knowledge.ts';

/** A material of an explanation with its mass fraction in what was analysed. */
export interface PartOfGrain {
  readonly material: Material;
  readonly massFraction: number;
}

/** Put into paint for its colour. */
const COLOURING = new Set(['pigment', 'lake', 'metal']);
/** Hues without a colour of their own; what is named so lets a paint down, fills or carries it. */
const PALE = new Set(['white', 'colourless', 'various', 'none', 'coating', 'metal', 'bluish white', 'pearl white']);
/** Part of the materials, by mass, below which a coloured one is taken for an admixture (judgement). */
const LEAST_COLOURING = 0.03;

/** Part of the materials from which salts, dirt or metal come right after what gives the colour. */
const MOST = 0.5;
/** Fell on a paint or grew in it. */
const GROWN = new Set(['alteration', 'contaminant']);

export const givesColour = ({ class: kind, hue }: Material): boolean => COLOURING.has(kind) && !PALE.has(hue);

/** White pigments, grounds and fillers. */
export const letsDown = (material: Material): boolean =>
  material.class === 'ground' ||
  material.class === 'filler' ||
  (COLOURING.has(material.class) && !givesColour(material));

/** Classes behind the colours and the whites. */
const PLACES = ['', '', 'ground', 'filler', 'alteration', 'drier', 'contaminant'];

/**
 * What gives the colour first, then white pigments and what makes up most, grounds and fillers, then the rest; the most of each first.
 * @param bornOut how well a part alone bears out what was seen of the grain, ln: of several colours the one that was seen gives it
 */
export function inOrder<Part extends PartOfGrain>(
  parts: readonly Part[],
  bornOut: (part: Part) => number = () => 0,
): Part[] {
  const total = parts.reduce((sum, { massFraction }) => sum + massFraction, 0);
  const place = ({ material, massFraction }: Part): number => {
    if (massFraction < LEAST_COLOURING * total) return PLACES.length;
    if (givesColour(material)) return 0;
    // Salts or metal that make up most of a grain are what it is, whatever lies in them.
    if (GROWN.has(material.class) && massFraction > MOST * total) return 1;
    return COLOURING.has(material.class) ? 1 : PLACES.indexOf(material.class);
  };
  const seen = (part: Part): number => (place(part) === 0 ? bornOut(part) : 0);
  return [...parts].sort((a, b) => place(a) - place(b) || seen(b) - seen(a) || b.massFraction - a.massFraction);
}

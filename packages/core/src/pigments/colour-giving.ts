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

export const givesColour = ({ class: kind, hue }: Material): boolean => COLOURING.has(kind) && !PALE.has(hue);

/** White pigments, grounds and fillers. */
export const letsDown = (material: Material): boolean =>
  material.class === 'ground' ||
  material.class === 'filler' ||
  (COLOURING.has(material.class) && !givesColour(material));

/** Classes behind the colours and the whites. */
const PLACES = ['', '', 'ground', 'filler', 'alteration', 'drier', 'contaminant'];

/** What gives the colour first, then white pigments, grounds and fillers, then the rest; the most of each first. */
export function inOrder<Part extends PartOfGrain>(parts: readonly Part[]): Part[] {
  const total = parts.reduce((sum, { massFraction }) => sum + massFraction, 0);
  const place = ({ material, massFraction }: Part): number => {
    if (massFraction < LEAST_COLOURING * total) return PLACES.length;
    if (givesColour(material)) return 0;
    return COLOURING.has(material.class) ? 1 : PLACES.indexOf(material.class);
  };
  return [...parts].sort((a, b) => place(a) - place(b) || b.massFraction - a.massFraction);
}

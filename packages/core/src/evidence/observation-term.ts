import { exp, log } from '../arithmetic/exponential.ts';
import { MATERIALS } from '../pigments/knowledge.ts';
import { opticsOf } from '../pigments/optics-table.ts';
import { mixesTo, type PartSeen, shownParts } from './carriers.ts';
import { type Fit, fitOf, itemsOf } from './fit-of.ts';
import { type Observations, OBSERVED_PROPERTIES, type ObservedProperty } from './observations.ts';

/** How often what is said to be seen is a slip: of the eye, of the hand, of the table. Chosen, as odds rather than as a measurement. */
export const COLOUR_SLIP = 0.05;
export const SLIP = 0.1;
/** One observation moves the odds of two explanations by no more than a factor of e to this. Chosen. */
export const MOST_SHIFT = 4;

/** Properties that a test or an instrument finds in any part, however small; the eye meets only what shows. */
export const BY_ANY_PART: ReadonlySet<ObservedProperty> = new Set([
  'microchemistry',
  'raman_cm1',
  'infrared_cm1',
  'diffraction',
]);

/** What two colours that look like a third count for. */
const MIXES = 0.5;

/** How well a grain of these parts shows each thing that was seen of a property; null where the table does not say. */
export function fitsOf(property: ObservedProperty, parts: readonly PartSeen[], seen: Observations): Fit[] {
  const shown = BY_ANY_PART.has(property) ? parts : shownParts(parts);
  return itemsOf(property, seen).map((item) => {
    const fits = shown.map(({ material }) => fitOf(property, item, opticsOf(material.id), seen));
    const mixed = typeof item === 'string' && property === 'colour' && mixesTo(item, shown) ? MIXES : 0;
    const best = Math.max(mixed, ...fits.map((fit) => fit ?? 0));
    return best === 0 && (fits.includes(null) || fits.length === 0) ? null : best;
  });
}

/** ln P of one thing seen against that of what a grain shows as a rule. */
function lnOf(property: ObservedProperty, fit: number): number {
  const slip = property === 'colour' ? COLOUR_SLIP : SLIP;
  return log((slip + (1 - 2 * slip) * fit) / (1 - slip));
}

/** ln P of a property against that of a grain that shows it all, -MOST_SHIFT to 0; null where the table says nothing. */
function lnShown(property: ObservedProperty, parts: readonly PartSeen[], seen: Observations): number | null {
  const fits = fitsOf(property, parts, seen).filter((fit) => fit !== null);
  if (fits.length === 0) return null;
  return Math.max(
    -MOST_SHIFT,
    fits.reduce((sum, fit) => sum + lnOf(property, fit), 0),
  );
}

/** What the observations say of explanations, prepared once for as many of them as there are. */
export type Judge = (parts: readonly PartSeen[]) => number;

export function judgeOf(seen: Observations): Judge {
  const asked = OBSERVED_PROPERTIES.filter((property) => seen[property] !== undefined).map((property) => ({
    property,
    unknown: lnOfAny(property, seen),
  }));
  return (parts) =>
    asked.reduce((sum, { property, unknown }) => {
      const own = lnShown(property, parts, seen);
      return own === null ? sum : sum + own - unknown;
    }, 0);
}

/** The same for a material of which nothing is known: the mean over all of which something is. */
function lnOfAny(property: ObservedProperty, seen: Observations): number {
  const known = MATERIALS.map((material) => lnShown(property, [{ material, massFraction: 1 }], seen)).filter(
    (ln) => ln !== null,
  );
  return known.length === 0 ? 0 : log(known.reduce((sum, ln) => sum + exp(ln), 0) / known.length);
}

/**
 * ln P(what was seen | these materials) - ln P(what was seen | a material of which nothing is known), properties taken as independent.
 * 0 where the table says nothing; two explanations differ by at most MOST_SHIFT for each property.
 */
export function observationTerm(parts: readonly PartSeen[], seen: Observations): number {
  return judgeOf(seen)(parts);
}

import type { Material } from '../pigments/knowledge.ts';
import { againstMountant, type MaterialOptics, opticsOf } from '../pigments/optics-table.ts';
import { type PartSeen, shownParts } from './carriers.ts';
import { BY_ANY_PART, fitsOf } from './observation-term.ts';
import {
  mountantOf,
  type Observations,
  OBSERVED_PROPERTIES,
  observationTexts,
  type ObservedProperty,
} from './observations.ts';

/** Something seen that the materials of an explanation do not show. */
export interface SeenContradiction {
  readonly property: ObservedProperty;
  /** What was seen, as it was told. */
  readonly value: string;
  /** What they would show, each that the table speaks of. */
  readonly expected: readonly { readonly id: string; readonly name: string; readonly shows: readonly string[] }[];
}

/** What was seen that speaks against an explanation. @param parts the one that gives the colour first */
export function contradictionsIn(
  parts: readonly (PartSeen & { readonly material: Pick<Material, 'id' | 'name'> })[],
  seen: Observations,
): SeenContradiction[] {
  const told = new Map(observationTexts(seen));
  return OBSERVED_PROPERTIES.filter((property) => fitsOf(property, parts, seen).includes(0)).map((property) => ({
    property,
    value: told.get(property)!,
    expected: (BY_ANY_PART.has(property) ? parts : shownParts(parts)).flatMap(({ material: { id, name } }) => {
      const shows = expectedOf(property, opticsOf(id), seen);
      return shows.length > 0 ? [{ id, name, shows }] : [];
    }),
  }));
}

/** What a row of the table says of a property, as words. */
function expectedOf(property: ObservedProperty, optics: MaterialOptics, seen: Observations): readonly string[] {
  switch (property) {
    case 'size_um': {
      const range = optics.size_um?.value;
      return range ? [`${range.low} to ${range.high}`] : [];
    }
    case 'refraction': {
      const range = optics.refractive_index?.value;
      return range ? [againstMountant(range, mountantOf(seen))] : [];
    }
    case 'raman_cm1':
    case 'infrared_cm1':
      return (optics[property]?.value ?? []).map(({ cm1 }) => String(cm1));
    case 'birefringence':
    case 'pleochroism': {
      const word = optics[property]?.value;
      return word ? [word] : [];
    }
    default:
      return optics[property]?.value ?? [];
  }
}

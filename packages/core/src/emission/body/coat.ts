import { massFractionsOf, mixture } from '../../atomic/composition.ts';
import { layerOf, type Layer, type Material } from './body.ts';

/** Conductive coats in use; 5 to 20 nm of them are usual (common practice, no source). */
export const COAT_NAMES = ['carbon', 'gold', 'gold-palladium', 'platinum'] as const;
export type CoatName = (typeof COAT_NAMES)[number];

/**
 * Densities, g/cm3. Metals: of the solid (CRC Handbook of Chemistry and Physics, from memory), gold-palladium 80:20 by mass, its volumes
 * added; sputtered films may be some 10 % lighter. Carbon: evaporated films, 1.8 to 2.1 in use (from memory).
 */
const COATS: Record<CoatName, Material> = {
  carbon: { composition: massFractionsOf('C'), densityGPerCm3: 2.0 },
  gold: { composition: massFractionsOf('Au'), densityGPerCm3: 19.3 },
  'gold-palladium': {
    composition: mixture([
      { formula: 'Au', massFraction: 0.8 },
      { formula: 'Pd', massFraction: 0.2 },
    ]),
    densityGPerCm3: 1 / (0.8 / 19.3 + 0.2 / 12.0),
  },
  platinum: { composition: massFractionsOf('Pt'), densityGPerCm3: 21.45 },
};

/** A conductive coat. @param thicknessNm 0 to 1000 nm @throws RangeError outside that */
export function coat(name: CoatName, thicknessNm: number): Layer {
  if (!(thicknessNm >= 0 && thicknessNm <= 1000))
    throw new RangeError(`A coat must be 0 to 1000 nm thick, not ${thicknessNm}.`);
  return layerOf(COATS[name], thicknessNm / 1000);
}

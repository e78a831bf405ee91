// Twenty two-part mixtures that any practitioner meets (common practice, no source), and lead white with chalk in fifteen shares.
import { grainOf, type PaintGrain } from './paint-grains.ts';

/** First the pigment that gives the colour, then its part of the mass and what it is mixed with. */
const EVERYDAY: readonly (readonly [colour: string, part: number, beside: string])[] = [
  ['cadmium-yellow', 0.5, 'vermilion'],
  ['cobalt-blue', 0.6, 'viridian'],
  ['viridian', 0.3, 'lead-white'],
  ['vermilion', 0.5, 'lead-white'],
  ['azurite', 0.5, 'lead-white'],
  ['malachite', 0.5, 'chalk'],
  ['lead-tin-yellow-i', 0.5, 'lead-white'],
  ['smalt', 0.6, 'lead-white'],
  ['ultramarine-synthetic', 0.5, 'zinc-white'],
  ['cobalt-blue', 0.4, 'zinc-white'],
  ['chrome-yellow', 0.4, 'barium-sulfate-natural'],
  ['cadmium-red', 0.5, 'titanium-white-rutile'],
  ['cadmium-yellow', 0.4, 'zinc-white'],
  ['emerald-green', 0.5, 'zinc-white'],
  ['red-ochre', 0.6, 'gypsum'],
  ['burnt-umber', 0.6, 'chalk'],
  ['bone-black', 0.4, 'lead-white'],
  ['zinc-white', 0.6, 'barium-sulfate-natural'],
  ['titanium-white-rutile', 0.4, 'chalk'],
  ['lead-antimonate-yellow', 0.5, 'lead-white'],
];
const CHALK_CASES = 15;

export const everydayGrains = (seed: number): PaintGrain[] =>
  EVERYDAY.map(([colour, part, beside], k) =>
    grainOf(
      `${colour} with ${beside}`,
      [
        { id: colour, part },
        { id: beside, part: 1 - part },
      ],
      seed + k,
    ),
  );

export const leadWhiteWithChalk = (seed: number): PaintGrain[] =>
  Array.from({ length: CHALK_CASES }, (_, k) => {
    const part = 0.25 + (0.65 * k) / (CHALK_CASES - 1);
    return grainOf(
      `lead-white ${part.toFixed(2)} with chalk`,
      [
        { id: 'lead-white', part },
        { id: 'chalk', part: 1 - part },
      ],
      seed + 100 + k,
    );
  });

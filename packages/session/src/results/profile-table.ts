import { csv } from '../input/csv.ts';
import type { Profile } from '../summary/profile.ts';
import { sixDigits } from './tables.ts';

export const PROFILE_HEADING = csv([
  [
    'sample',
    'file',
    'layer',
    'x',
    'y',
    'unit',
    'distance',
    'element',
    'mass_fraction',
    'mass_fraction_sigma',
    'detection_limit',
  ],
]);

/** The rows of profile.csv: each main element at each point, by distance along the line. */
export function profileRows(profiles: readonly Profile[]): string {
  return csv(
    profiles.flatMap(({ sample, unit, stations }) =>
      stations.flatMap(({ point: { file, layer, x, y }, distance, amounts }) =>
        amounts.map(({ symbol, seen, limit }) => [
          sample,
          file,
          layer,
          x,
          y,
          unit,
          distance,
          symbol,
          seen && sixDigits(seen.value),
          seen && sixDigits(seen.sigma),
          limit === null ? null : sixDigits(limit),
        ]),
      ),
    ),
  );
}

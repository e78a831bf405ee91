import type { Profile } from '../summary/profile.ts';
import type { SampleMap } from '../summary/sample-map.ts';
import { mapFigure, MOST_POINTS } from './map-figure.ts';
import { profileFigure } from './profile-figure.ts';
import { escape } from './report-parts.ts';

export const POSITIONS_STYLE = `
svg.graph { display: block; max-width: 100%; height: auto; font-size: 12px; margin: 0.8rem 0; }
.key { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: 0.2rem 1.2rem; max-width: 42rem; font-size: 0.9rem; }
.key svg { width: 16px; height: 16px; vertical-align: -3px; }
`.trim();

/** The report's section on where the spectra were taken. @param without number of spectra that state no position */
export function positionsSection(maps: readonly SampleMap[], without: number): string {
  if (maps.length === 0) return '';
  const lacking =
    without > 0
      ? `<p class="quiet">${without} ${without === 1 ? 'spectrum states' : 'spectra state'} no position.</p>`
      : '';
  return [
    '<h2>Where the spectra were taken</h2>',
    '<p class="quiet">Stage positions from XPOSITION and YPOSITION in the headers, x to the right, y upwards; some stages count the other way. Marks show the material that fits best: a suggestion.</p>',
    ...maps.flatMap((map) => mapPart(map, maps.length > 1)),
    lacking,
  ].join('\n');
}

function mapPart({ sample, points, apart, beside, profile }: SampleMap, several: boolean): string[] {
  const name = sample === null ? (several ? 'No sample' : 'All') : `Sample ${sample}`;
  const count = `${points.length} ${points.length === 1 ? 'point' : 'points'}`;
  return [
    `<h3>${escape(name)}: ${count}</h3>`,
    mapFigure(points),
    points.length > MOST_POINTS ? `<p class="quiet">Only the first ${MOST_POINTS} points are drawn.</p>` : '',
    beside.length > 0 ? `<p class="quiet">Outside the layers, not drawn: ${escape(beside.join(', '))}</p>` : '',
    apart.length > 0 ? `<p class="quiet">In another unit, not drawn: ${escape(apart.join(', '))}</p>` : '',
    ...(profile ? [profileFigure(profile), `<p class="quiet">${profileText(profile)}</p>`] : []),
  ];
}

const profileText = ({ throughLayers }: Profile): string =>
  `Per cent by mass along ${throughLayers ? 'the line through the layers, from the ground up' : 'the line of points'}, with standard uncertainties; an open triangle marks the detection limit where an element is not seen. Standardless estimates; the numbers are in profile.csv.`;

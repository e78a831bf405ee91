// Words on where the spectra of a session were taken, and on the figures of it.

import { figure, type Node, paragraph, section } from '../sections/tree.ts';
import { MOST_MAP_POINTS } from '../terms/cutoffs.ts';
import { counted, fixed, percent, trimmed } from '../terms/numerals.ts';
import { layerText } from './view.ts';

/** The points of one sample in one unit. */
export interface MapTold {
  /** Null without a sheet. */
  readonly sample: string | null;
  readonly points: readonly unknown[];
  /** Files whose positions are in another unit. */
  readonly apart: readonly string[];
  /** Files of points outside the layers, where there are layers. */
  readonly beside: readonly string[];
  readonly profile: ProfileTold | null;
}

/** Points along a line. */
export interface ProfileTold {
  /** Whether the line leads through the layers, from the ground up, or else along the points. */
  readonly throughLayers: boolean;
  /** Elements drawn. */
  readonly symbols: readonly string[];
}

/** Where the spectra were taken: a map of each sample and, where its points lie on a line, amounts along it. @param without number of spectra that state no position */
export function positionsSection(maps: readonly MapTold[], without: number): Node | null {
  if (maps.length === 0) return null;
  return section('positions', 'Where the spectra were taken', [
    note(
      'positions-note',
      'Stage positions from XPOSITION and YPOSITION in the headers, x to the right, y upwards; on some stages they run the other way. Marks show ' +
        'the material that fits best, as a suggestion.',
    ),
    ...maps.map((map) => mapSection(map, maps.length > 1)),
    without > 0 ? note('no-position', `${counted(without, 'spectrum states', 'spectra state')} no position.`) : null,
  ]);
}

const note = (id: string, text: string): Node | null => paragraph(id, text, 'brief', 'note');

function mapSection({ sample, points, apart, beside, profile }: MapTold, several: boolean): Node | null {
  const of = sample === null ? [] : [sample];
  const id = (what: string): string => [what, ...of].join('-');
  const name = sample === null ? (several ? 'No sample' : 'All') : `Sample ${sample}`;
  const told = counted(points.length, 'point');
  const drawn = points.length > MOST_MAP_POINTS ? `Only the first ${fixed(MOST_MAP_POINTS, 0)} points are drawn.` : '';
  return section(id('places'), `${name}: ${told}`, [
    figure(id('map'), 'map', of, `Map of ${told}`),
    note(id('drawn'), drawn),
    note(id('beside'), beside.length > 0 ? `Outside the layers, not drawn: ${beside.join(', ')}` : ''),
    note(id('apart'), apart.length > 0 ? `In another unit, not drawn: ${apart.join(', ')}` : ''),
    profile && figure(id('profile'), 'profile', of, profileCaption(profile)),
    profile && note(id('profile-note'), profileText(profile)),
  ]);
}

const profileCaption = ({ symbols }: ProfileTold): string =>
  `Per cent by mass of ${symbols.join(', ')} along the line; the numbers are in profile.csv`;

const profileText = ({ throughLayers }: ProfileTold): string =>
  `Per cent by mass along ${throughLayers ? 'the line through the layers, from the ground up' : 'the line of points'}, with standard ` +
  'uncertainties; an open triangle marks the detection limit where an element is not seen. Standardless estimates; the numbers are in profile.csv.';

/** What a map says in itself. */
export const MAP_WORDS = {
  /** In its key: materials too few to have a mark of their own, and points of no material. */
  others: 'Other materials',
  none: 'No material stands out',
  /** A mark's title. */
  point: (file: string, layer: number | null, material: string): string =>
    `${file}${layer === null ? '' : `, ${layerText(layer)}`}: ${material}`,
  /** A line of its key. @param points that have the mark */
  key: (material: string, points: number): string => `${material} ${fixed(points, 0)}`,
  /** Of the scale bar. @param unit as the header states it, '' where it does not */
  scale: (length: number, unit: string): string => `${trimmed(length, 1)} ${unit || '(unit not stated)'}`,
} as const;

/** What a profile says in itself. */
export const PROFILE_WORDS = {
  distance: 'distance',
  /** At the end of the axis. */
  end: (distance: number, unit: string): string => `${trimmed(distance, 3)} ${unit}`,
  /** At the top of an element's graph. */
  top: (massFraction: number): string => percent(massFraction),
} as const;

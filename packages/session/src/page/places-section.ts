import { MOST_POINTS, planFigure } from './plan-figure.ts';
import type { Point } from '../input/position.ts';
import { type Profile, profileOf } from '../summary/profile.ts';
import { profileFigure } from './profile-figure.ts';
import { escape } from './report-parts.ts';

export const PLACES_STYLE = `
svg.graph { display: block; max-width: 100%; height: auto; font-size: 12px; margin: 0.8rem 0; }
.key { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: 0.2rem 1.2rem; max-width: 42rem; font-size: 0.9rem; }
.key svg { width: 16px; height: 16px; vertical-align: -3px; }
`.trim();

/** The points of one sample in one unit. */
export interface Plan {
  readonly sample: string | null;
  readonly points: readonly Point[];
  /** Files whose places are told in another unit. */
  readonly apart: readonly string[];
  /** Files of points beside the layers, where there are layers: often so far off that they would crowd the others. */
  readonly beside: readonly string[];
  readonly profile: Profile | null;
}

/** Points by sample (all in one without a sheet), in the unit that most of each state. */
export function plansOf(points: readonly Point[]): Plan[] {
  const samples = [...new Set(points.map(({ sample }) => sample))].sort((a, b) =>
    (a ?? '\uffff') < (b ?? '\uffff') ? -1 : 1,
  );
  return samples.map((sample) => {
    const its = points.filter((point) => point.sample === sample);
    const many = (unit: string): number => its.filter((point) => point.unit === unit).length;
    const units = [...new Set(its.map(({ unit }) => unit))].sort((a, b) => many(b) - many(a) || (a < b ? -1 : 1));
    const same = its.filter(({ unit }) => unit === units.at(0));
    const layered = same.filter(({ layer }) => layer !== null);
    const drawn = layered.length > 0 ? layered : same;
    const beside = (layered.length > 0 ? same.filter(({ layer }) => layer === null) : []).map(({ file }) => file);
    const apart = its.filter(({ unit }) => unit !== units.at(0)).map(({ file }) => file);
    return { sample, points: drawn, apart, beside, profile: profileOf(drawn) };
  });
}

/** The report's part on where the spectra were taken. @param without how many spectra tell no place */
export function placesSection(plans: readonly Plan[], without: number): string {
  if (plans.length === 0) return '';
  const lacking =
    without > 0 ? `<p class="quiet">${without} ${without === 1 ? 'spectrum tells' : 'spectra tell'} no place.</p>` : '';
  return [
    '<h2>Where the spectra were taken</h2>',
    '<p class="quiet">As the stage stood by XPOSITION and YPOSITION of the headers, x to the right, y upwards; some stages count otherwise. Marks follow the material that fits best: a suggestion.</p>',
    ...plans.flatMap((plan) => planPart(plan, plans.length > 1)),
    lacking,
  ].join('\n');
}

function planPart({ sample, points, apart, beside, profile }: Plan, several: boolean): string[] {
  const name = sample === null ? (several ? 'Of no sample' : 'All') : `Sample ${sample}`;
  const count = `${points.length} ${points.length === 1 ? 'point' : 'points'}`;
  return [
    `<h3>${escape(name)}: ${count}</h3>`,
    planFigure(points),
    points.length > MOST_POINTS ? `<p class="quiet">The first ${MOST_POINTS} points are drawn.</p>` : '',
    beside.length > 0 ? `<p class="quiet">Beside the layers, so not drawn: ${escape(beside.join(', '))}</p>` : '',
    apart.length > 0 ? `<p class="quiet">In another unit, so not drawn: ${escape(apart.join(', '))}</p>` : '',
    ...(profile ? [profileFigure(profile), `<p class="quiet">${profileText(profile)}</p>`] : []),
  ];
}

const profileText = ({ throughLayers }: Profile): string =>
  `Per cent by mass along ${throughLayers ? 'the line through the layers, from the ground up' : 'the line of the points'}, with standard uncertainties; an open triangle marks the detection limit where an element is not seen. Standardless estimates; the numbers are in profile.csv.`;

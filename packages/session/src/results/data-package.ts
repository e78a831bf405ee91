import { GRAIN_COLUMNS } from './grain-table.ts';
import { ELEMENT_COLUMNS } from './tables.ts';

export const DATA_PACKAGE = 'datapackage.json';
export const DATA_PACKAGE_BEGINS = '{"profile":"tabular-data-package","name":"limner-session"';

interface Field {
  readonly name: string;
  readonly type: 'string' | 'number' | 'integer';
  readonly description?: string;
}

const field = (name: string, type: Field['type'], description?: string): Field => ({
  name,
  type,
  ...(description !== undefined && { description }),
});

const ELEMENT_MEANING: Readonly<Record<(typeof ELEMENT_COLUMNS)[number], string | undefined>> = {
  file: undefined,
  sample: 'as the sample sheet names it',
  layer: 'numbered from the ground up; empty outside the layers',
  particle: undefined,
  element: 'symbol',
  verdict: 'present, open, not-seen or blind',
  probability: 'that the element is present',
  counts: 'counts of all its lines',
  counts_sigma: 'standard uncertainty of the counts',
  limit_counts: 'counts that would be found in 95 % of cases',
  mass_fraction: 'standardless estimate',
  mass_fraction_sigma: 'standard uncertainty of the mass fraction',
  limit_mass_fraction: 'content that would be found in 95 % of cases',
  origin: 'specimen, setting (mounting and instrument) or either',
  under: 'neighbour that hides it',
  rivals: 'what else could explain its counts, best first',
};
const ELEMENT_TEXTS: ReadonlySet<string> = new Set([
  'file',
  'sample',
  'particle',
  'element',
  'verdict',
  'origin',
  'under',
  'rivals',
]);
const ELEMENT_FIELDS = ELEMENT_COLUMNS.map((name) =>
  field(name, name === 'layer' ? 'integer' : ELEMENT_TEXTS.has(name) ? 'string' : 'number', ELEMENT_MEANING[name]),
);

const PIGMENT_FIELDS = [
  field('file', 'string'),
  field('id', 'string', 'of the material'),
  field('name', 'string'),
  field('standing', 'string', 'allowed; ruled-out where those were asked for'),
  field('score', 'number', '0 to 1; not a probability'),
  field('reason', 'string'),
];
const GRAIN_MEANING: Readonly<Record<(typeof GRAIN_COLUMNS)[number], string | undefined>> = {
  file: undefined,
  sample: 'as the sample sheet names it',
  layer: 'numbered from the ground up; empty outside the layers',
  particle: undefined,
  present: 'elements required by the counts, not from the mounting alone; most counts first',
  open: 'elements that are open',
  headline: 'the best explanation of the grain, if one stands out',
  alike: 'other materials that could take the place of the one that gives the colour',
  earliest_date: 'a year, BCE negative: an argument, not proof',
  dated_by: 'element on which that argument rests',
  questions: 'about what does not fit the stated date',
  note: 'from the sample sheet',
  judged: 'what people accepted or rejected, see notes.csv',
  title: 'as the file states it',
  beam_kev: undefined,
  total_counts: undefined,
  unexplained_peaks: 'peaks that nothing explains',
  warnings: 'codes of the warnings in the record',
  sha256: 'of the file',
  copy_of: 'identical file, which is counted in layers, kinds and profiles instead',
  link: 'section of the report',
};
const GRAIN_TYPES: Readonly<Partial<Record<string, Field['type']>>> = {
  layer: 'integer',
  alike: 'integer',
  earliest_date: 'integer',
  beam_kev: 'number',
  total_counts: 'number',
  unexplained_peaks: 'integer',
};
const GRAIN_FIELDS = GRAIN_COLUMNS.map((name) => field(name, GRAIN_TYPES[name] ?? 'string', GRAIN_MEANING[name]));

const NOTE_FIELDS = [
  field('file', 'string'),
  field('kind', 'string', 'element or material'),
  field('id', 'string', 'symbol of the element, or id of the material'),
  field('answer', 'string', 'accepted, rejected or remark'),
  field('reason', 'string'),
  field('by', 'string', 'who made the note'),
  field('at', 'string', 'when, UTC'),
  field('sha256', 'string', 'of the file as it was then'),
];

const FAILURE_FIELDS = [field('file', 'string'), field('reason', 'string')];
const LAYER_FIELDS = [
  field('sample', 'string'),
  field('layer', 'integer', 'numbered from the ground up; empty outside the layers'),
  field('kind', 'string', 'element, material or earliest-date'),
  field('id', 'string', 'of the element or material; of the element that dates the layer'),
  field('name', 'string', 'of the element or material; the year for earliest-date'),
  field('grains_with', 'integer', 'grains in which it is present, fits best, or argues for that year'),
  field('grains', 'integer', 'grains read in that layer'),
];

const KIND_FIELDS = [
  field('kind', 'integer', 'from 1, largest kind first; empty for a spectrum unlike any other'),
  field('name', 'string', 'by its elements'),
  field('spectra', 'integer'),
  field('representative', 'string', 'file of the most typical spectrum'),
  field('elements', 'string', 'seen in most spectra, with per cent by mass, medium and mounting left out'),
  field('material_id', 'string', 'best fit for more than half of its spectra'),
  field('material', 'string'),
  field('spectra_with_material', 'integer'),
];
const KIND_MEMBER_FIELDS = [
  field('file', 'string'),
  field('kind', 'integer', 'empty for a spectrum unlike any other'),
  field('also', 'string', 'other kinds that its counts cannot exclude'),
  field('representative', 'string', 'file of the most typical spectrum of its kind'),
];

const PROFILE_FIELDS = [
  field('sample', 'string'),
  field('file', 'string'),
  field('layer', 'integer', 'numbered from the ground up'),
  field('x', 'number', 'of the stage (XPOSITION)'),
  field('y', 'number', 'of the stage (YPOSITION)'),
  field('unit', 'string', 'of x, y and distance, as the header states it'),
  field('distance', 'number', 'along the line, from the first point'),
  field('element', 'string'),
  field('mass_fraction', 'number', 'standardless estimate; empty where it is not seen'),
  field('mass_fraction_sigma', 'number', 'standard uncertainty of the mass fraction'),
  field('detection_limit', 'number', 'as a mass fraction'),
];

/** The tables' columns as a Data Package with Table Schemas (Frictionless specifications, version 1, from memory). */
export function dataPackageText(): string {
  const resource = (name: string, fields: readonly Field[], primaryKey?: readonly string[]) => ({
    profile: 'tabular-data-resource',
    name,
    path: `${name}.csv`,
    format: 'csv',
    mediatype: 'text/csv',
    encoding: 'utf-8',
    schema: { fields, missingValues: [''], ...(primaryKey && { primaryKey }) },
  });
  return `${JSON.stringify({
    profile: 'tabular-data-package',
    name: 'limner-session',
    resources: [
      resource('elements', ELEMENT_FIELDS, ['file', 'element']),
      resource('pigments', PIGMENT_FIELDS, ['file', 'id']),
      resource('grains', GRAIN_FIELDS, ['file']),
      resource('notes', NOTE_FIELDS, ['file', 'kind', 'id', 'by']),
      resource('layers', LAYER_FIELDS),
      resource('kinds', KIND_FIELDS, ['representative']),
      resource('kind-members', KIND_MEMBER_FIELDS, ['file']),
      resource('profile', PROFILE_FIELDS, ['file', 'element']),
      resource('failures', FAILURE_FIELDS, ['file']),
    ],
  })}\n`;
}

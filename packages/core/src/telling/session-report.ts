// Words of a session's report on samples and their layers; the renderer in @limner/session lays them out.

import { OUTSIDE, spectraText } from './session.ts';
import { counted, fixed, keV, listed, yearText } from './terms/numerals.ts';
import { cell, column, type Row, row, table, type Table } from './sections/tree.ts';

/** A session as the head of its report names it. */
export interface ReportHead {
  /** YYYY-MM-DD */
  readonly date: string;
  readonly spectra: number;
  readonly failures: number;
  /** Beam energies of its spectra, keV, each once. */
  readonly beamsKev: readonly number[];
  readonly version: string;
  readonly atomicData: string;
  readonly pigmentData: string;
  /** Options other than the usual ones, as they were given. */
  readonly options: Readonly<Record<string, unknown>>;
  /** SHA-256 over names and contents of all files. */
  readonly session: string;
}

/** Title of a report. @param spectra their number */
export const reportTitle = (spectra: number): string => `Readings of ${spectraText(spectra)}`;
/** What every report says before its tables. */
export const REPORT_LEAD =
  'Elements suggest a material; they never prove one. Mass fractions are standardless estimates.';

/** What was read, when, how and by what. */
export function reportHeadTable(head: ReportHead): Table | null {
  const { date, spectra, failures, beamsKev, version, atomicData, pigmentData, options, session } = head;
  const told = Object.entries(options).map(([name, value]) => `${name} ${plain(value)}`);
  const failed = failures > 0 ? `, ${counted(failures, 'file')} not read` : '';
  const rows: readonly (readonly [id: string, name: string, text: string])[] = [
    ['date', 'date of the results', date],
    ['spectra', 'spectra', `${fixed(spectra, 0)} read${failed}; their names and hashes are in manifest.json`],
    [
      'beam',
      'beam',
      listed([...beamsKev].sort((a, b) => a - b).map((kev) => keV(1000 * kev).replace(/\.?0+(?=\u00a0)/, ''))),
    ],
    ['options', 'options', told.length > 0 ? told.join('; ') : 'the usual ones'],
    ['software', 'read by', `Limner ${version}, atomic data ${atomicData}, materials ${pigmentData}`],
    ['session', 'files', `SHA-256 ${session}`],
  ];
  return table(
    'report-head',
    'What was read, and how',
    [column('name', ''), column('text', '')],
    rows.map(([id, name, text]) => row(`report-${id}`, [cell(name), cell(text)])),
  );
}

/** As given: words as words, tables by their JSON. */
const plain = (value: unknown): string => {
  if (Array.isArray(value)) return value.map(plain).join(', ');
  return typeof value === 'string' ? value : JSON.stringify(value);
};

/** An argument on the earliest date of a layer. */
export interface DateTold {
  readonly year: number;
  readonly symbol: string;
  readonly file: string;
  readonly weakestLink: string;
  /** Whether the grain lies in the layer itself, or below it. */
  readonly own: boolean;
}

/** One layer of a sample. */
export interface LayerTold {
  readonly layer: number;
  readonly grains: number;
  /** In how many grains each element is present; most first. */
  readonly elements: readonly { readonly symbol: string; readonly grains: number }[];
  /** In how many grains each explanation fits best; most first. */
  readonly materials: readonly { readonly name: string; readonly alike: number; readonly grains: number }[];
  readonly odd: readonly string[];
  readonly date: DateTold | null;
}

const MOST_ELEMENTS = 8;
const MOST_MATERIALS = 4;

/** What stands beside a layer in the drawing, its heading first. */
export function layerLines({ layer, grains, elements, materials, odd, date }: LayerTold): string[] {
  const of = (count: number): string => `${fixed(count, 0)}/${fixed(grains, 0)}`;
  const found = elements.slice(0, MOST_ELEMENTS).map(({ symbol, grains: n }) => `${symbol} ${of(n)}`);
  const more = elements.length - found.length;
  const fits = materials
    .slice(0, MOST_MATERIALS)
    .map(({ name, alike, grains: n }) => `${name}${alike > 0 ? ' (or alike)' : ''} ${of(n)}`);
  const moreFits = materials.length - fits.length;
  return [
    `Layer ${fixed(layer, 0)}, ${counted(grains, 'grain')}`,
    found.length > 0
      ? `${found.join(', ')}${more > 0 ? ` and ${fixed(more, 0)} more` : ''}`
      : 'no element is required by the counts',
    fits.length > 0 ? `Fits best: ${fits.join('; ')}${moreFits > 0 ? ` and ${fixed(moreFits, 0)} more` : ''}` : '',
    date ? `Not before about ${yearText(date.year)}, on the evidence of ${date.symbol} in ${date.file}` : '',
    odd.length > 0 ? `Differs from its layer: ${odd.join(', ')}` : '',
  ].filter((line) => line !== '');
}

/** The dating argument of a sample, layer by layer with its weakest link, then as a whole. */
export function datingLines(layers: readonly Pick<LayerTold, 'layer' | 'date'>[]): string[] {
  const argued = layers.flatMap(({ layer, date }) =>
    date
      ? [
          `Layer ${fixed(layer, 0)}: not before about ${yearText(date.year)}, on the evidence of ${date.symbol} in ` +
            `${date.own ? date.file : `the layers below (${date.file})`}. Weakest link: ${date.weakestLink}.`,
        ]
      : [],
  );
  const last = layers.at(-1)?.date;
  return last ? [...argued, `The sample as a whole: not before about ${yearText(last.year)}.`] : argued;
}

/** A grain whose kind none other of its layer has. */
export const strayText = (file: string, layer: number, like: number, kind: string): string =>
  `${file}, layer ${fixed(layer, 0)}: no other grain of this layer is of its kind (${kind}), but most of layer ${fixed(like, 0)} are. ` +
  'Did it come from there, or do both layers contain it?';

/** A grain of a sample, as its table tells it. */
export interface GrainTold {
  /** In the drawing; null outside the layers. */
  readonly number: number | null;
  readonly file: string;
  readonly layer: number | null;
  readonly particle: string;
  readonly present: readonly string[];
  readonly open: readonly string[];
  readonly best: string;
  readonly year: number | null;
  readonly note: string;
}

const GRAIN_COLUMNS = [
  column('particle', 'grain'),
  column('number', 'No.', 'right'),
  column('layer', 'layer'),
  column('present', 'present'),
  column('open', 'open'),
  column('best', 'fits best'),
  column('year', 'not before', 'right'),
  column('note', 'note'),
];

/** The grains of a sample, a row each, in the order of the drawing. */
export function grainTable(sample: string, grains: readonly GrainTold[]): Table | null {
  return table(`grains-${sample}`, `Grains of sample ${sample}`, GRAIN_COLUMNS, grains.map(grainRow));
}

function grainRow({ number, file, layer, particle, present, open, best, year, note }: GrainTold): Row {
  return row(`grain-${file}`, [
    cell(particle || file),
    cell(number === null ? '' : fixed(number, 0), number),
    cell(layer === null ? OUTSIDE : fixed(layer, 0), layer),
    cell(present.join(' ')),
    cell(open.join(' ')),
    cell(best),
    cell(year === null ? '' : yearText(year), year),
    cell(note),
  ]);
}

/** What the samples' part of the report is called, and how its drawings are read. */
export const SAMPLE_WORDS = {
  /** Heading of a sample's drawing. */
  layers: (sample: string): string => `Layers of ${sample}, surface at the top`,
  /** Heading of a sample. */
  sample: (sample: string): string => `Sample ${sample}`,
  dates: 'Earliest date: an argument, not proof',
  questions: 'Questions about the stated date',
  odd: 'Differ from their layer: worth a second look',
  strays: 'Perhaps from another layer',
  appendix: 'The spectra, one by one',
  key:
    'Surface at the top, ground at the bottom; not to scale, and the shades of the layers are no colours of the paint. The numbers are those of ' +
    'the table. A square is a grain with none of the elements that most grains of its layer contain. Dates are arguments, never proof: a ' +
    'retouching, a mixture or a look-alike can change them.',
} as const;

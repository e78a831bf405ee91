// Words on a session's samples and their layers.

import { anchor, cell, column, figure, type Node, paragraph, type Row, row, section, table } from '../sections/tree.ts';
import { counted, fixed, yearText } from '../terms/numerals.ts';
import { type GrainStep, sampleSteps } from './next-steps.ts';
import { linesSection } from './report.ts';
import { layerText, OUTSIDE } from './view.ts';

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
/** Where other materials may stand in the place of the one named. */
const OR_ALIKE = ' (or similar)';

/** What stands beside a layer in the drawing, its heading first. */
export function layerLines({ layer, grains, elements, materials, odd, date }: LayerTold): string[] {
  const of = (count: number): string => `${fixed(count, 0)}/${fixed(grains, 0)}`;
  const found = elements.slice(0, MOST_ELEMENTS).map(({ symbol, grains: n }) => `${symbol} ${of(n)}`);
  const more = elements.length - found.length;
  const fits = materials
    .slice(0, MOST_MATERIALS)
    .map(({ name, alike, grains: n }) => `${name}${alike > 0 ? OR_ALIKE : ''} ${of(n)}`);
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
function datingLines(layers: readonly Pick<LayerTold, 'layer' | 'date'>[]): string[] {
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
export interface StrayTold {
  readonly file: string;
  readonly layer: number;
  /** The layer of whose kind it is, and the name of the kind. */
  readonly like: number;
  readonly kind: string;
}

const strayText = ({ file, layer, like, kind }: StrayTold): string =>
  `${file}, layer ${fixed(layer, 0)}: no other grain of this layer is of its kind (${kind}), but most of those in layer ${fixed(like, 0)} are. ` +
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
  readonly best: { readonly name: string; readonly alike: number } | null;
  readonly year: number | null;
  readonly note: string;
  readonly steps: readonly GrainStep[];
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

/** One sample of a session. */
export interface SampleTold {
  readonly sample: string;
  /** From the ground up, those outside the layers left out. */
  readonly layers: readonly LayerTold[];
  /** In the order of the drawing. */
  readonly grains: readonly GrainTold[];
  /** About what does not fit the stated date. */
  readonly questions: readonly { readonly file: string; readonly question: string }[];
  readonly strays: readonly StrayTold[];
}

/** A sample: its layers as a figure, its grains as a table, the date, and what is worth a second look. */
export function sampleSection({ sample, layers, grains, questions, strays }: SampleTold): Node | null {
  const lines = (id: string, title: string, texts: readonly string[]): Node | null =>
    linesSection(`${id}-${sample}`, title, texts);
  return section(`sample-${sample}`, `Sample ${sample}`, [
    layers.length > 0 ? figure(`layers-${sample}`, 'layers', [sample], layersCaption(sample)) : null,
    table(`grains-${sample}`, `Grains of sample ${sample}`, GRAIN_COLUMNS, grains.map(grainRow)),
    paragraph(`key-${sample}`, KEY, 'brief', 'note'),
    lines('dates', 'Earliest date: an argument, not proof', datingLines(layers)),
    figure(`spectra-${sample}`, 'grain-spectra', [sample], grainSpectraCaption(sample)),
    sampleSteps(
      sample,
      grains.map((grain) => ({ name: grainName(grain), steps: grain.steps })),
    ),
    lines(
      'questions',
      'Questions about the stated date',
      questions.map(({ file, question }) => `${file}: ${question}`),
    ),
    lines(
      'odd',
      'Different from their layer: worth a second look',
      layers.flatMap(({ layer, odd }) => odd.map((file) => `${file}, ${layerText(layer)}`)),
    ),
    lines('strays', 'Perhaps from another layer', strays.map(strayText)),
  ]);
}

/** What the drawing of a sample's layers shows. */
export const layersCaption = (sample: string): string => `Layers of ${sample}, surface at the top`;

/** What the small spectra of a sample's grains show. */
const grainSpectraCaption = (sample: string): string => `The spectra of the grains of ${sample}, with their fits`;

/** Under a sample's small spectra. @param left how many are not drawn */
export const grainSpectraKey = (left: number): string =>
  `${SKETCH_CAPTION}${left > 0 ? ` ${counted(left, 'more grain')} on the pages of the single spectra.` : ''}`;

/** How to read a spectrum of the report. */
export const SKETCH_CAPTION =
  'Grey: measured counts. Line: the fit. Dotted line: its background. Energy in keV; counts on a square-root scale.';

/** The explanation that fits a grain best, as its table names it. @param alike number of other materials that may stand in its place */
const bestText = (best: GrainTold['best']): string =>
  best === null ? '' : `${best.name}${best.alike > 0 ? OR_ALIKE : ''}`;

/** A grain as the drawing and the table of its sample number it: '3 · g03'. */
export const grainName = ({ number, particle, file }: Pick<GrainTold, 'number' | 'particle' | 'file'>): string =>
  number === null ? particle || file : `${fixed(number, 0)}\u00a0· ${particle || file}`;

/** Id of a grain's row in the table of its sample. */
export const grainRowId = (file: string): string => `grain-${anchor(file)}`;

function grainRow({ number, file, layer, particle, present, open, best, year, note }: GrainTold): Row {
  return row(grainRowId(file), [
    cell(particle || file),
    cell(number === null ? '' : fixed(number, 0), number),
    cell(layer === null ? OUTSIDE : fixed(layer, 0), layer),
    cell(present.join(' ')),
    cell(open.join(' ')),
    cell(bestText(best)),
    cell(year === null ? '' : yearText(year), year),
    cell(note),
  ]);
}

/** How the drawing of the layers is read. */
const KEY =
  'Surface at the top, ground at the bottom; not to scale, and the shades of the layers are not the colours of the paint. The numbers are those in ' +
  'the table. A square is a grain with none of the elements that most grains of its layer contain. Dates are arguments, never proof: a ' +
  'retouching, a mixture or a look-alike can change them.';

import { log } from '../arithmetic/exponential.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { fwhmEv } from '../detector/resolution.ts';
import { withResolution } from '../detector/resolution-statement.ts';
import { CLASH_DEFAULTS } from '../peaks/clash.ts';
import type { ExpectedLine } from '../peaks/expected-strength.ts';
import { fixed } from '../telling/terms/numerals.ts';
import { type ChartOptions, type ChartPair, chartPairs } from './chart.ts';
import type { Drawing, DrawingMark } from './drawing.ts';

/** Sheets of paper, points (ISO 216: 210 mm by 297 mm and its doubles). */
export const PAPERS = {
  A4: [595.3, 841.9],
  A3: [841.9, 1190.6],
  A2: [1190.6, 1683.8],
  A1: [1683.8, 2383.9],
} as const;
/** A sheet that the chart is drawn for. */
export type Paper = keyof typeof PAPERS;

/** The chart is laid out for A4 and grows with the sheet. */
const MARGIN = 30;
const HEAD = 64;
const COLUMNS = 3;
const GLYPH = 62;
const GLYPH_EV = 130;

/** Line coincidences as a chart for the wall: a pair to a field, known from paint first, strength by length. */
export function wallChart(options: ChartOptions, paper: Paper): Drawing {
  const pairs = chartPairs(options);
  const [widthPt, heightPt] = PAPERS[paper];
  const [baseWidth, baseHeight] = PAPERS.A4;
  const rows = Math.ceil(pairs.length / COLUMNS);
  const field = {
    width: (baseWidth - 2 * MARGIN) / COLUMNS,
    height: Math.min(26, (baseHeight - 2 * MARGIN - HEAD) / rows),
  };
  const marks = [
    ...headMarks(options, pairs),
    ...pairs.flatMap((pair, i) =>
      fieldMarks(pair, MARGIN + Math.floor(i / rows) * field.width, MARGIN + HEAD + (i % rows) * field.height, field),
    ),
  ];
  const factor = widthPt / baseWidth;
  return { widthPt, heightPt, title: 'Lines that coincide', marks: marks.map((mark) => scaled(mark, factor)) };
}

function headMarks({ beamKev, withinEv }: ChartOptions, pairs: readonly ChartPair[]): DrawingMark[] {
  const paint = pairs.filter((pair) => pair.paint).length;
  const at = (row: number): number => MARGIN + 12 * row;
  return [
    text(MARGIN, at(1) + 2, 16, `Lines within ${withinEv} eV of each other, ${beamKev} keV`, true),
    text(
      MARGIN,
      at(2) + 6,
      7,
      'Two strokes: the two lines, to scale; the longer the stroke, the more photons the pure element gives (a quarter of the length for each factor of ten).',
    ),
    text(
      MARGIN,
      at(3) + 3,
      7,
      `Grey bar: width of a peak at half its height for a detector of ${CLASH_DEFAULTS.fwhmMnEv} eV. Strokes inside one bar make one peak.`,
    ),
    text(
      MARGIN,
      at(4),
      7,
      `Bold: the ${paint} pairs known from paint; then the strongest others. Simulated, no evidence about any object.`,
    ),
  ];
}

interface Field {
  readonly width: number;
  readonly height: number;
}

function fieldMarks(
  { a, b, apartEv, paint }: ChartPair,
  x: number,
  y: number,
  { width, height }: Field,
): DrawingMark[] {
  const base = y + height * 0.78;
  const left = x + width - GLYPH - 12;
  const perEv = GLYPH / GLYPH_EV;
  const meanEv = (a.line.energyEv + b.line.energyEv) / 2;
  const bar = fwhmEv(withResolution(DEFAULT_DETECTOR, CLASH_DEFAULTS.fwhmMnEv), meanEv);
  const middle = left + GLYPH / 2;
  const half = (Math.min(bar, GLYPH_EV) * perEv) / 2;
  return [
    text(x, y + height * 0.4, 7.4, `${named(a)}  ${named(b)}`, paint),
    text(x, y + height * 0.4 + 8, 6, `${fixed(a.line.energyEv / 1000, 3)} keV, ${fixed(apartEv, 0)} eV apart`),
    { kind: 'line', x1: middle - half, y1: base, x2: middle + half, y2: base, width: 3, grey: 0.75 },
    ...[a, b].map((line, k): DrawingMark => {
      const at = middle + (k === 0 ? -1 : 1) * (apartEv / 2) * perEv;
      return { kind: 'line', x1: at, y1: base, x2: at, y2: base - height * 0.66 * lengthOf(line), width: 1.4, grey: 0 };
    }),
  ];
}

const named = ({ line }: ExpectedLine): string => `${line.symbol} ${line.iupac}`;

/** Photons per electron and steradian of a strong line (about Si K): the full length. */
const FULL = 1e-4;
const TENFOLD = 0.25;
const LEAST = 0.12;

const lengthOf = ({ photons }: ExpectedLine): number =>
  Math.min(1, Math.max(LEAST, 1 + TENFOLD * (log(photons / FULL) / Math.LN10)));

const text = (x: number, y: number, size: number, words: string, bold = false): DrawingMark => ({
  kind: 'text',
  x,
  y,
  size,
  text: words.replaceAll('\u00a0', ' '),
  bold,
});

function scaled(mark: DrawingMark, by: number): DrawingMark {
  if (mark.kind === 'text') return { ...mark, x: mark.x * by, y: mark.y * by, size: mark.size * by };
  return { ...mark, x1: mark.x1 * by, y1: mark.y1 * by, x2: mark.x2 * by, y2: mark.y2 * by, width: mark.width * by };
}

import { MAP_WORDS, MOST_MAP_POINTS } from '@limner/core';
import type { Point } from '../summary/point.ts';
import { escape } from './report-parts.ts';

/** Drawing units, about a pixel on a screen: it fits a page of 420 px. */
const [SIZE, MARGIN, FOOT] = [360, 16, 34];
const LEAST_HEIGHT = 60;
/** Seven colours that stay apart for every kind of colour vision (Okabe and Ito, Color Universal Design, 2008; values recalled). */
const COLOURS = ['#0072b2', '#d55e00', '#009e73', '#cc79a7', '#e69f00', '#56b4e9', '#000000'] as const;
/** A shape for each, so that they stay apart in grey too; of about the same area, around the origin. */
const SHAPES = [
  'M-5 0a5 5 0 1 0 10 0a5 5 0 1 0 -10 0z',
  'M-4.5 -4.5h9v9h-9z',
  'M0 -6l5.5 10h-11z',
  'M0 -6.5l5 6.5l-5 6.5l-5 -6.5z',
  'M0 6l5.5 -10h-11z',
  'M-2 -6h4v4h4v4h-4v4h-4v-4h-4v-4h4z',
  'M-6 -2.5h12v5h-12z',
] as const;
const { others: OTHERS, none: NONE } = MAP_WORDS;

interface Mark {
  readonly name: string;
  readonly points: number;
  readonly svg: string;
}

/** The points of one sample at their stage positions, shape and colour by the material that fits best, with a scale bar. @param caption for those who cannot see it */
export function mapFigure(points: readonly Point[], caption: string): string {
  const marks = marksOf(points);
  const drawn = points.slice(0, MOST_MAP_POINTS);
  const { place, height, scale } = frameOf(points);
  const dots = drawn.map((point) => {
    const [x, y] = place(point);
    const mark = marks.get(nameOf(point)) ?? marks.get(OTHERS)!;
    const title = MAP_WORDS.point(point.file, point.layer, nameOf(point));
    return `<g transform="translate(${x} ${y})"><title>${escape(title)}</title>${mark.svg}</g>`;
  });
  const key = [...marks.values()].map(
    ({ name, points: n, svg }) =>
      `<li><svg viewBox="-8 -8 16 16" aria-hidden="true">${svg}</svg> ${escape(MAP_WORDS.key(name, n))}</li>`,
  );
  return [
    `<svg class="graph" role="img" aria-label="${escape(caption)}" viewBox="0 0 ${SIZE} ${height + FOOT}" width="${SIZE}" height="${height + FOOT}">`,
    `<rect x="0.5" y="0.5" width="${SIZE - 1}" height="${height - 1}" fill="none" stroke="#8a8578"/>`,
    ...dots,
    scaleBar(scale, height, points.at(0)?.unit ?? ''),
    '</svg>',
    `<ul class="key">${key.join('')}</ul>`,
  ].join('\n');
}

const nameOf = ({ best }: Point): string => (best === null ? NONE : best.name);

/** A mark for each of the commonest materials, one for all others, and an open one where none stands out. */
function marksOf(points: readonly Point[]): Map<string, Mark> {
  const counts = new Map<string, number>();
  for (const point of points) counts.set(nameOf(point), (counts.get(nameOf(point)) ?? 0) + 1);
  const none = counts.get(NONE) ?? 0;
  counts.delete(NONE);
  const sorted = [...counts].sort(([a, m], [b, n]) => n - m || (a < b ? -1 : 1));
  const marks = sorted.slice(0, SHAPES.length).map(([name, n], i) => ({
    name,
    points: n,
    svg: `<path d="${SHAPES.at(i)!}" fill="${COLOURS.at(i)!}" stroke="#fff" stroke-width="0.7"/>`,
  }));
  const rest = sorted.slice(SHAPES.length).reduce((sum, [, n]) => sum + n, 0);
  const cross = '<path d="M-4 -4l8 8m0 -8l-8 8" stroke="#5b574d" stroke-width="2"/>';
  const open = '<circle r="4.5" fill="#fff" stroke="#5b574d" stroke-width="1.5"/>';
  if (rest > 0) marks.push({ name: OTHERS, points: rest, svg: cross });
  if (none > 0) marks.push({ name: NONE, points: none, svg: open });
  return new Map(marks.map((mark) => [mark.name, mark]));
}

/** Where points go: x to the right, y upwards, both at one scale. */
function frameOf(points: readonly Point[]) {
  const least = (of: (point: Point) => number): number => points.reduce((m, p) => Math.min(m, of(p)), Infinity);
  const [x0, y0] = [least(({ x }) => x), least(({ y }) => y)];
  const [w, h] = [-least(({ x }) => -x) - x0, -least(({ y }) => -y) - y0];
  const room = SIZE - 2 * MARGIN;
  const scale = room / (Math.max(w, h) || 1);
  const height = Math.max(LEAST_HEIGHT, h * scale + 2 * MARGIN);
  const [left, low] = [(SIZE - w * scale) / 2, (height + h * scale) / 2];
  const place = ({ x, y }: Point): [number, number] => [round(left + (x - x0) * scale), round(low - (y - y0) * scale)];
  return { place, height: round(height), scale };
}

/** A bar of 1, 2 or 5 times a power of ten, a fifth to half of the width. */
function scaleBar(scale: number, height: number, unit: string): string {
  const most = SIZE / 2 / scale;
  const power = Number(`1e${Math.floor(Math.log10(most))}`);
  const length = [5, 2, 1].map((n) => n * power).find((n) => n <= most) ?? power;
  return `<path d="M1 ${height + 12}h${round(length * scale)}" stroke="#1d1d1b" stroke-width="3"/><text x="1" y="${height + 28}">${escape(MAP_WORDS.scale(length, unit))}</text>`;
}

const round = (value: number): number => Math.round(value * 10) / 10;

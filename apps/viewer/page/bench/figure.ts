import { s } from '../dom.ts';

/** A curve or filled band over energy; `upper` and `lower` per channel. */
export interface Band {
  readonly name: string;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  /** Number of the pattern that tells it from the others, 1 to 4. */
  readonly pattern: number;
}

export interface Curve {
  readonly values: Float64Array;
  readonly role: 'counts' | 'with' | 'without';
}

export interface FigureOf {
  readonly energyEv: Float64Array;
  readonly bands: readonly Band[];
  readonly curves: readonly Curve[];
  /** Misfit without the element, in standard deviations; null where none was taken out. */
  readonly residual: Float64Array | null;
  readonly rangeKev: readonly [number, number];
  readonly scale: 'linear' | 'log';
  readonly widthPx: number;
  readonly heightPx: number;
  /** In words, for who cannot see it. */
  readonly label: string;
}

const MARGIN = { left: 58, right: 10, top: 10, bottom: 30 };
const RESIDUAL_PX = 84;
const GAP_PX = 16;
const MOST_SIGMA = 6;

/** The spectrum with its parts, and under it the misfit without the element taken out. */
export function figure(of: FigureOf): SVGSVGElement {
  const { widthPx, heightPx, rangeKev, residual } = of;
  const [from, to] = rangeKev;
  const plotHeight = heightPx - MARGIN.top - MARGIN.bottom - (residual ? RESIDUAL_PX + GAP_PX : 0);
  const x = (ev: number): number =>
    MARGIN.left + ((ev / 1000 - from) / (to - from)) * (widthPx - MARGIN.left - MARGIN.right);
  const inside = insideOf(of);
  const scale = scaleOf(of, inside, plotHeight);
  const bottom = MARGIN.top + plotHeight;
  const residualTop = bottom + GAP_PX;
  return s(
    'svg',
    {
      viewBox: `0 0 ${widthPx} ${heightPx}`,
      width: widthPx,
      height: heightPx,
      role: 'img',
      'aria-label': of.label,
      class: 'bench-figure',
    },
    patterns(),
    ...scale.ticks.map((tick) => yTick(tick, scale.y(tick), widthPx)),
    ...of.bands.map(({ lower, upper, pattern }) =>
      s('path', {
        class: `band band-${pattern}`,
        fill: `url(#part-${pattern})`,
        d: area(of.energyEv, lower, upper, inside, x, scale.y),
      }),
    ),
    ...of.curves.map(({ values, role }) =>
      s('path', {
        class: `curve ${role}`,
        fill: 'none',
        d:
          role === 'counts'
            ? steps(of.energyEv, values, inside, x, scale.y)
            : line(of.energyEv, values, inside, x, scale.y),
      }),
    ),
    residual ? residualPanel(of.energyEv, residual, inside, x, residualTop, widthPx) : null,
    xAxis(from, to, x, residual ? residualTop + RESIDUAL_PX : bottom, widthPx),
  );
}

type Inside = readonly [number, number];

/** Channels in sight. */
function insideOf({ energyEv, rangeKev: [from, to] }: FigureOf): Inside {
  const first = energyEv.findIndex((ev) => ev >= 1000 * from);
  const after = energyEv.findIndex((ev) => ev > 1000 * to);
  return [Math.max(0, first), after < 0 ? energyEv.length : after];
}

function scaleOf({ curves, scale }: FigureOf, [from, to]: Inside, height: number) {
  let most = 4;
  for (const { values } of curves) for (let i = from; i < to; i++) most = Math.max(most, values[i]);
  most *= 1.06;
  const least = scale === 'log' ? 0.8 : 0;
  const f = (value: number): number => (scale === 'log' ? Math.log10(Math.max(value, least)) : value);
  const y = (value: number): number => MARGIN.top + height * (1 - (f(value) - f(least)) / (f(most) - f(least)));
  return { y, ticks: scale === 'log' ? decades(most) : niceTicks(most) };
}

const decades = (most: number): number[] => Array.from({ length: Math.floor(Math.log10(most)) + 1 }, (_, k) => 10 ** k);

function niceTicks(most: number): number[] {
  const rough = most / 4;
  const decade = 10 ** Math.floor(Math.log10(rough));
  const step = decade * (rough / decade < 1.5 ? 1 : rough / decade < 3.5 ? 2 : 5);
  return Array.from({ length: Math.floor(most / step) + 1 }, (_, k) => k * step);
}

const short = (value: number): string =>
  value >= 1e6 ? `${value / 1e6} M` : value >= 1e4 ? `${value / 1e3} k` : String(value);

function yTick(value: number, at: number, widthPx: number): SVGElement {
  return s(
    'g',
    { class: 'tick' },
    s('line', { x1: MARGIN.left, x2: widthPx - MARGIN.right, y1: at, y2: at }),
    s('text', { x: MARGIN.left - 6, y: at + 4, 'text-anchor': 'end' }, short(value)),
  );
}

function xAxis(from: number, to: number, x: (ev: number) => number, at: number, widthPx: number): SVGElement {
  const wanted = widthPx < 500 ? 5 : 9;
  const step = [0.05, 0.1, 0.2, 0.5, 1, 2, 5].find((one) => (to - from) / one <= wanted) ?? 5;
  const ticks = Array.from(
    { length: Math.floor((to - from) / step + 1e-9) + 2 },
    (_, k) => Math.ceil(from / step - 1e-9) * step + k * step,
  ).filter((kev) => kev <= to + 1e-9);
  return s(
    'g',
    { class: 'axis' },
    s('line', { x1: MARGIN.left, x2: widthPx - MARGIN.right, y1: at, y2: at }),
    ...ticks.flatMap((kev) => [
      s('line', { x1: x(1000 * kev), x2: x(1000 * kev), y1: at, y2: at + 5 }),
      s('text', { x: x(1000 * kev), y: at + 17, 'text-anchor': 'middle' }, String(Number(kev.toFixed(2)))),
    ]),
    s('text', { x: widthPx - MARGIN.right, y: at + 29, 'text-anchor': 'end' }, 'keV'),
  );
}

function residualPanel(
  energyEv: Float64Array,
  residual: Float64Array,
  [from, to]: Inside,
  x: (ev: number) => number,
  top: number,
  widthPx: number,
): SVGElement {
  const y = (sigma: number): number =>
    top + (RESIDUAL_PX / 2) * (1 - Math.max(-MOST_SIGMA, Math.min(MOST_SIGMA, sigma)) / MOST_SIGMA);
  let d = '';
  for (let i = from; i < to; i++)
    if (residual[i] !== 0) d += `M${px(x(energyEv[i]))} ${px(y(0))}V${px(y(residual[i]))}`;
  const rule = (sigma: number): SVGElement[] => [
    s('line', { x1: MARGIN.left, x2: widthPx - MARGIN.right, y1: y(sigma), y2: y(sigma) }),
    s(
      'text',
      { x: MARGIN.left - 6, y: y(sigma) + 4, 'text-anchor': 'end' },
      sigma === 0 ? '0' : `${sigma > 0 ? '+' : '−'}${Math.abs(sigma)} σ`,
    ),
  ];
  return s(
    'g',
    { class: 'tick residual' },
    ...[-3, 0, 3].flatMap(rule),
    s('path', { class: 'misfit', d, fill: 'none' }),
  );
}

const px = (value: number): string => value.toFixed(1);

function steps(
  energyEv: Float64Array,
  values: Float64Array,
  [from, to]: Inside,
  x: (ev: number) => number,
  y: (value: number) => number,
): string {
  const half = to - from > 1 ? (energyEv[from + 1] - energyEv[from]) / 2 : 0;
  let d = '';
  for (let i = from; i < to; i++)
    d += `${d ? 'L' : 'M'}${px(x(energyEv[i] - half))} ${px(y(values[i]))}H${px(x(energyEv[i] + half))}`;
  return d;
}

function line(
  energyEv: Float64Array,
  values: Float64Array,
  [from, to]: Inside,
  x: (ev: number) => number,
  y: (value: number) => number,
): string {
  let d = '';
  for (let i = from; i < to; i++) if (values[i] > 0) d += `${d ? 'L' : 'M'}${px(x(energyEv[i]))} ${px(y(values[i]))}`;
  return d;
}

function area(
  energyEv: Float64Array,
  lower: Float64Array,
  upper: Float64Array,
  [from, to]: Inside,
  x: (ev: number) => number,
  y: (value: number) => number,
): string {
  let there = '';
  let back = '';
  for (let i = from; i < to; i++) {
    there += `${there ? 'L' : 'M'}${px(x(energyEv[i]))} ${px(y(upper[i]))}`;
    back = `L${px(x(energyEv[i]))} ${px(y(lower[i]))}${back}`;
  }
  return there ? `${there}${back}Z` : '';
}

/** Four fills told apart by pattern as well as by colour. */
export function patterns(): SVGElement {
  const pattern = (n: number, ...marks: SVGElement[]): SVGElement =>
    s(
      'pattern',
      { id: `part-${n}`, width: 8, height: 8, patternUnits: 'userSpaceOnUse' },
      s('rect', { width: 8, height: 8, class: `ground-${n}` }),
      ...marks,
    );
  return s(
    'defs',
    {},
    pattern(1),
    pattern(2, s('path', { d: 'M0 8L8 0M-2 2L2 -2M6 10L10 6', class: 'hatch' })),
    pattern(3, s('circle', { cx: 4, cy: 4, r: 1.5, class: 'dot' })),
    pattern(4, s('path', { d: 'M0 4H8', class: 'hatch' })),
  );
}

/** A pattern by itself, for the list of parts. */
export const swatch = (n: number): SVGSVGElement =>
  s(
    'svg',
    { width: 28, height: 16, class: 'swatch', 'aria-hidden': 'true' },
    s('rect', { x: 0.5, y: 0.5, width: 27, height: 15, fill: `url(#part-${n})`, class: `band band-${n}` }),
  );

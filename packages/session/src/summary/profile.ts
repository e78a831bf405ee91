import { ELEMENT_SYMBOLS, type Point } from './point.ts';

/** Binding media bring these to every point, so they do not show layers. */
const MEDIUM: ReadonlySet<string> = new Set(['C', 'N', 'O']);
const FEWEST_POINTS = 3;
/** Points lie on a line when they stray from it by less than this part of its length (both as spreads): common practice, no source. */
const SLENDER = 0.2;
/** A line leads through the layers when it explains this part of the variance of their numbers. */
const LEADING = 0.5;
/** Below this squared ratio of the spreads across and along, points are on one line as far as the arithmetic goes. */
const FLAT = 1e-9;
const MOST_ELEMENTS = 6;

/** Points along a line. */
export interface Profile {
  readonly sample: string | null;
  readonly unit: string;
  /** Whether the line leads through the layers, from the ground up, or else along the points. */
  readonly throughLayers: boolean;
  /** By distance from the first one. */
  readonly stations: readonly Station[];
  /** Elements with the greatest mean mass fractions, those of the medium apart, greatest first. */
  readonly symbols: readonly string[];
}

export interface Station {
  readonly point: Point;
  readonly distance: number;
  readonly amounts: readonly Amount[];
}

export interface Amount {
  readonly symbol: string;
  /** Mass fraction; null where it is not seen. */
  readonly seen: { readonly value: number; readonly sigma: number } | null;
  readonly limit: number | null;
}

/**
 * The points of one sample along the line through its layers: the direction in which the layers' numbers rise most (least squares).
 * Without layers, along the points' principal axis, if they lie on a line; null where neither gives one.
 */
export function profileOf(points: readonly Point[]): Profile | null {
  const built = points.filter(({ layer }) => layer !== null);
  const throughLayers = new Set(built.map(({ layer }) => layer)).size > 1 && built.length >= FEWEST_POINTS;
  const used = throughLayers ? built : points;
  const first = used.at(0);
  if (first === undefined || used.length < FEWEST_POINTS) return null;
  const direction = throughLayers ? risingDirection(used) : axisOf(used);
  if (direction === null) return null;
  const along = used
    .map((point) => ({ point, t: point.x * direction[0] + point.y * direction[1] }))
    .sort((a, b) => a.t - b.t || (a.point.file < b.point.file ? -1 : 1));
  const start = along.at(0)!.t;
  // To a millionth of the line; beyond that there is only rounding.
  const digits = 6 - Math.floor(Math.log10(along.at(-1)!.t - start || 1));
  const rounded = (distance: number): number => Number(distance.toFixed(Math.min(Math.max(digits, 0), 100)));
  const symbols = mainElements(used);
  const stations = along.map(({ point, t }) => ({
    point,
    distance: rounded(t - start),
    amounts: amountsOf(point, symbols),
  }));
  return { sample: first.sample, unit: first.unit, throughLayers, stations, symbols };
}

type Direction = readonly [number, number];

interface Spread {
  readonly xx: number;
  readonly yy: number;
  readonly xy: number;
  /** Of the layers' numbers with the places. */
  readonly xl: number;
  readonly yl: number;
  readonly ll: number;
}

function spreadOf(points: readonly Point[]): Spread {
  const mean = (of: (point: Point) => number): number => points.reduce((s, p) => s + of(p), 0) / points.length;
  const [mx, my, ml] = [mean(({ x }) => x), mean(({ y }) => y), mean(({ layer }) => layer ?? 0)];
  const product = (a: (p: Point) => number, b: (p: Point) => number): number => mean((p) => a(p) * b(p));
  const [x, y] = [(p: Point) => p.x - mx, (p: Point) => p.y - my];
  const l = (p: Point): number => (p.layer ?? 0) - ml;
  return {
    xx: product(x, x),
    yy: product(y, y),
    xy: product(x, y),
    xl: product(x, l),
    yl: product(y, l),
    ll: product(l, l),
  };
}

/** Gradient of the plane through the layers' numbers; the axis of points on a line that itself leads through the layers. */
function risingDirection(points: readonly Point[]): Direction | null {
  const { xx, yy, xy, xl, yl, ll } = spreadOf(points);
  const axis = axisOf(points);
  if (axis !== null) {
    const [ux, uy] = axis;
    const [along, rise] = [ux * ux * xx + 2 * ux * uy * xy + uy * uy * yy, ux * xl + uy * yl];
    if (rise ** 2 >= LEADING * along * ll) return rise > 0 ? axis : [-ux, -uy];
  }
  const determinant = xx * yy - xy ** 2;
  if (!(determinant > FLAT * (xx + yy) ** 2)) return null;
  const [gx, gy] = [(yy * xl - xy * yl) / determinant, (xx * yl - xy * xl) / determinant];
  const length = Math.hypot(gx, gy);
  return length > 0 ? [gx / length, gy / length] : null;
}

/** Principal axis of points that lie on a line; null for others. */
function axisOf(points: readonly Point[]): Direction | null {
  const { xx, yy, xy } = spreadOf(points);
  const half = Math.hypot((xx - yy) / 2, xy);
  const [major, minor] = [(xx + yy) / 2 + half, Math.max(0, (xx + yy) / 2 - half)];
  if (!(major > 0) || Math.sqrt(minor / major) > SLENDER) return null;
  const angle = Math.atan2(2 * xy, xx - yy) / 2;
  return [Math.cos(angle), Math.sin(angle)];
}

function mainElements(points: readonly Point[]): string[] {
  const greatest = ELEMENT_SYMBOLS.map((symbol, i) => ({
    symbol,
    value: points.reduce((sum, { amounts }) => sum + (amounts.value.at(i)! || 0), 0),
  }));
  return greatest
    .filter(({ symbol, value }) => value > 0 && !MEDIUM.has(symbol))
    .sort((a, b) => b.value - a.value)
    .slice(0, MOST_ELEMENTS)
    .map(({ symbol }) => symbol);
}

function amountsOf({ amounts: { value, sigma, limit } }: Point, symbols: readonly string[]): Amount[] {
  return symbols.map((symbol) => {
    const i = ELEMENT_SYMBOLS.indexOf(symbol);
    const [its, doubt, least] = [value.at(i)!, sigma.at(i)!, limit.at(i)!];
    return {
      symbol,
      seen: Number.isNaN(its) ? null : { value: its, sigma: doubt },
      limit: Number.isNaN(least) ? null : least,
    };
  });
}

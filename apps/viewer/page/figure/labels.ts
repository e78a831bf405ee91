import type { Annotation, Dash } from 'plotly.js-dist-min';
import { nearestChannel, summits } from './bands.ts';
import { placeNames } from './label-places.ts';
import type { CurvesView, LayerView, MarkedLine } from '../reading.ts';
import type { Scale } from './scale.ts';

/** What the figure shows at the moment: a span of the axis in keV, drawn so many pixels wide and high. */
export interface Sight {
  readonly fromKev: number;
  readonly toKev: number;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Heights on the scale at its foot and its top. */
  readonly bottom: number;
  readonly top: number;
}

const SUMMITS_PER_LAYER = 6;
/** Part of the counts above the background, and counts per channel over their standard deviation, from which a peak gets a name. */
const LEAST_SHARE = 0.3;
const LEAST_STRENGTH = 1.5;
/** A line whose energy is within this of a summit makes it. */
const SAME_PEAK_EV = 60;
const MARK_GAP_PX = 13;
/** Width of a character and height of the two lines of a name, at the sizes below. */
const NAME_PX = { symbol: 8, line: 6.2, height: 27 } as const;
/** A name that stands higher above its peak than this gets a thin line down to it. */
const LEADER_PX = 12;

/** The lines of each element that was found. */
export type LinesOf = ReadonlyMap<string, readonly NamedLine[]>;

interface NamedLine {
  readonly line: string;
  readonly energyEv: number;
  readonly counts: number;
}

/**
 * Element and line above the peaks of each element layer, where they find a place; the others wait for a closer look.
 * @param tops the highest that is drawn at each channel, counts
 */
export function layerLabels(
  curves: CurvesView,
  tops: ArrayLike<number>,
  lines: LinesOf,
  scale: Scale,
  sight: Sight,
): Partial<Annotation>[] {
  const x = (kev: number): number => ((kev - sight.fromKev) / (sight.toKev - sight.fromKev)) * sight.widthPx;
  const y = (value: number): number => ((scale.of(value) - sight.bottom) / (sight.top - sight.bottom)) * sight.heightPx;
  const height = (i: number): number => tops[i];
  const wishes = curves.layers
    .filter((layer) => layer.kind === 'element')
    .flatMap((layer) => labelPlaces(layer, curves))
    .filter(({ kev }) => kev >= sight.fromKev && kev <= sight.toKev)
    .map((place) => {
      const line = lineAt(lines.get(place.name) ?? [], 1000 * place.kev);
      const width = Math.max(place.name.length * NAME_PX.symbol, line.length * NAME_PX.line);
      return { ...place, line, x: x(place.kev), y: y(height(place.i)), width, height: NAME_PX.height };
    });
  return placeNames(wishes, skylineOf(curves, height, x, y), { width: sight.widthPx, height: sight.heightPx }).map(
    ({ wish, raised }) => ({
      x: wish.kev,
      y: scale.of(height(wish.i)),
      text: wish.line ? `${wish.name}<br><span style="font-size:10px">${wish.line}</span>` : wish.name,
      font: { size: 13 },
      yanchor: 'bottom',
      ...(raised > LEADER_PX
        ? { showarrow: true, arrowhead: 0, arrowwidth: 0.6, ax: 0, ay: -raised, standoff: 2 }
        : { showarrow: false, yshift: raised - 3 }),
    }),
  );
}

/** The line that makes most of a peak; '' where none of the named ones does. */
function lineAt(lines: readonly NamedLine[], energyEv: number): string {
  const near = lines.filter((line) => Math.abs(line.energyEv - energyEv) < SAME_PEAK_EV);
  return near.sort((a, b) => b.counts - a.counts)[0]?.line ?? '';
}

/** The highest that stands over a stretch of the drawing. */
function skylineOf(
  { energyEv }: CurvesView,
  height: (i: number) => number,
  x: (kev: number) => number,
  y: (value: number) => number,
) {
  const last = energyEv.length - 1;
  const perChannel = x((energyEv[1] ?? 1) / 1000) - x((energyEv[0] ?? 0) / 1000);
  const start = x((energyEv[0] ?? 0) / 1000);
  return (fromX: number, toX: number): number => {
    const from = Math.max(0, Math.floor((fromX - start) / perChannel));
    const to = Math.min(last, Math.ceil((toX - start) / perChannel));
    let highest = 0;
    for (let i = from; i <= to; i++) highest = Math.max(highest, height(i));
    return y(highest);
  };
}

/** A question mark over each peak that nothing explains. */
export function questionMarks(
  energiesEv: readonly number[],
  curves: CurvesView,
  scale: Scale,
  sight: Sight,
  colour: string,
): Partial<Annotation>[] {
  const { energyEv, counts } = curves;
  return energiesEv
    .filter((ev) => ev >= 1000 * sight.fromKev && ev <= 1000 * sight.toKev)
    .map((ev) => {
      const i = nearestChannel(energyEv, ev);
      return {
        x: ev / 1000,
        y: scale.of(counts[i]),
        text: '<b>?</b>',
        showarrow: false,
        yshift: 12,
        font: { size: 15, color: colour },
      };
    });
}

/** The strongest peak of a layer, and those others where it carries a good part of what stands above the background. */
function labelPlaces({ name, counts }: LayerView, { energyEv, total, background }: CurvesView) {
  return summits(counts)
    .slice(0, SUMMITS_PER_LAYER)
    .filter((i, rank) => rank === 0 || counts[i] > LEAST_SHARE * (total[i] - background[i]))
    .map((i) => ({ name, i, kev: energyEv[i] / 1000, strength: counts[i] / Math.sqrt(total[i] + 1) }))
    .filter(({ strength }) => strength > LEAST_STRENGTH);
}

export interface MarkedElement {
  readonly symbol: string;
  readonly lines: readonly MarkedLine[];
  readonly dash: Dash;
}

/** The names of the marked lines on the rail above the figure. */
export function markLabels(marked: readonly MarkedElement[], sight: Sight): Partial<Annotation>[] {
  const candidates = marked
    .flatMap(({ symbol, lines }) => lines.map((line) => ({ symbol, ...line, kev: line.energyEv / 1000 })))
    .sort((a, b) => b.strength - a.strength);
  return keepApart(candidates, sight, MARK_GAP_PX).map(({ symbol, line, kev }) => ({
    x: kev,
    y: 1,
    yref: 'paper',
    yanchor: 'bottom',
    text: `${symbol} ${line}`,
    textangle: -90,
    showarrow: false,
    font: { size: 11 },
  }));
}

/** The first of the sorted candidates that lie in sight and no closer together than the gap. */
function keepApart<T extends { kev: number }>(candidates: readonly T[], sight: Sight, gapPx: number): T[] {
  const perKev = sight.widthPx / (sight.toKev - sight.fromKev);
  const keptOnes: T[] = [];
  for (const candidate of candidates) {
    if (candidate.kev < sight.fromKev || candidate.kev > sight.toKev) continue;
    if (keptOnes.every((other) => Math.abs(other.kev - candidate.kev) * perKev >= gapPx)) keptOnes.push(candidate);
  }
  return keptOnes;
}

import type { Annotation, Dash } from 'plotly.js-dist-min';
import { nearestChannel, summits } from './bands.ts';
import type { CurvesView, LayerView, MarkedLine } from '../reading.ts';
import type { Scale } from './scale.ts';

/** What the figure shows at the moment: a span of the axis in keV, drawn so many pixels wide. */
export interface Sight {
  readonly fromKev: number;
  readonly toKev: number;
  readonly widthPx: number;
}

const SUMMITS_PER_LAYER = 6;
/** Part of the counts above the background, and counts per channel over their standard deviation, from which a peak gets a name. */
const LEAST_SHARE = 0.3;
const LEAST_STRENGTH = 1.5;
const LABEL_GAP_PX = 24;
const MARK_GAP_PX = 13;

/** Names above the peaks of each element layer, strongest first; a name that would stand on another waits for a closer look. */
export function layerLabels(curves: CurvesView, scale: Scale, sight: Sight): Partial<Annotation>[] {
  const candidates = curves.layers
    .filter((layer) => layer.kind === 'element')
    .flatMap((layer) => labelPlaces(layer, curves))
    .sort((a, b) => b.strength - a.strength);
  return keepApart(candidates, sight, LABEL_GAP_PX).map(({ name, kev, i }) => ({
    x: kev,
    y: scale.of(Math.max(curves.total[i], curves.counts[i])),
    text: name,
    showarrow: false,
    yshift: 11,
    font: { size: 13 },
  }));
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

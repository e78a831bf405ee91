import { type FoundLine, thumbnailLabel } from '@limner/core';
import { s } from '../dom.ts';
import type { AlternativeView, CurvesView, LayerView } from '../reading.ts';
import { nearestChannel } from './bands.ts';

const WIDTH = 168;
const HEIGHT = 84;
const BASE = HEIGHT - 1;

export interface Thumbnail {
  readonly line: FoundLine;
  /** The channel of the line, and the first and last in the picture. */
  readonly at: number;
  readonly from: number;
  readonly to: number;
  /** The layer's counts under the line over the standard deviation of all counts there. */
  readonly weight: number;
}

const MOST = 3;
/** Lines that stand out less than this are not pictured, unless there is no better one. */
const LEAST_WEIGHT = 3;

/** The lines of an element that show it best, each with the channels around it; a line in the picture of a stronger one is left out. */
export function chooseThumbnails(lines: readonly FoundLine[], layer: LayerView, curves: CurvesView): Thumbnail[] {
  const possible = lines
    .filter((line) => line.counts > 0)
    .map((line) => around(line, layer, curves))
    .filter((thumbnail) => thumbnail !== null)
    .filter(({ line, from, to }, _, all) =>
      all.every((other) => other.at < from || other.at > to || other.line.counts <= line.counts),
    )
    .sort((a, b) => b.weight - a.weight);
  const chosen: Thumbnail[] = [];
  for (const thumbnail of possible) {
    if (chosen.length === MOST || (chosen.length > 0 && thumbnail.weight < LEAST_WEIGHT)) break;
    if (chosen.every(({ from, to }) => thumbnail.at < from || thumbnail.at > to)) chosen.push(thumbnail);
  }
  return chosen.sort((a, b) => a.at - b.at);
}

/** The channels over which the layer falls to a fiftieth of its height at the line, and a quarter more on both sides. */
function around(line: FoundLine, layer: LayerView, curves: CurvesView): Thumbnail | null {
  const at = nearestChannel(curves.energyEv, line.energyEv);
  const height = layer.counts[at];
  if (!(height > 0)) return null;
  const last = layer.counts.length - 1;
  let [from, to] = [at, at];
  let [own, all] = [0, 0];
  while (from > 0 && layer.counts[from] > height / 50 && at - from < 80) from--;
  while (to < last && layer.counts[to] > height / 50 && to - at < 80) to++;
  for (let i = from; i <= to; i++) {
    own += layer.counts[i];
    all += Math.max(0, curves.total[i]);
  }
  const more = Math.ceil((to - from) / 4);
  return { line, at, from: Math.max(0, from - more), to: Math.min(last, to + more), weight: own / Math.sqrt(all + 1) };
}

/**
 * A small picture of the counts around a line, with the fit and with the best fit without this element; until that is made, with the fit less
 * the element's own layer. Scaled to the line itself: a taller neighbour runs out of the picture.
 */
export function drawThumbnail(
  { line, at, from, to }: Thumbnail,
  layer: LayerView,
  curves: CurvesView,
  refitted: AlternativeView | null,
  colour: string,
  name: string,
): SVGElement {
  const channels = Array.from({ length: to - from + 1 }, (_, i) => from + i);
  const withIt = channels.map((i) => curves.total[i]);
  const without = channels.map((i) => refitted?.without[i] ?? curves.total[i] - layer.counts[i]);
  const instead = refitted?.instead ? channels.map((i) => refitted.instead!.expected[i]) : null;
  const seen = channels.map((i) => curves.counts[i]);
  const core = channels.flatMap((i, k) => (layer.counts[i] > 0.1 * layer.counts[at] ? [k] : []));
  const highest = Math.max(...core.flatMap((k) => [withIt[k], seen[k]]), 1);
  const lowest = Math.max(0, Math.min(...core.map((k) => without[k])));
  const top = highest + 0.08 * (highest - lowest);
  const x = (k: number) => ((k + 0.5) / channels.length) * WIDTH;
  const bottom = floorBelow(lowest, top);
  const y = (value: number) => BASE - ((Math.max(bottom, value) - bottom) / (top - bottom)) * (HEIGHT - 4);
  const path = (values: readonly number[]) =>
    values.map((value, k) => `${k ? 'L' : 'M'}${x(k).toFixed(1)} ${y(value).toFixed(1)}`).join('');
  const back = [...without].map((value, k) => `L${x(k).toFixed(1)} ${y(value).toFixed(1)}`).reverse();
  return s(
    'svg',
    {
      viewBox: `0 0 ${WIDTH} ${HEIGHT}`,
      class: 'thumbnail',
      role: 'img',
      'aria-label': thumbnailLabel(
        line.energyEv,
        { seen: sum(seen), withIt: sum(withIt), without: sum(without), refitted: refitted !== null },
        name,
      ),
    },
    s('path', { d: `${path(withIt)}${back.join('')}Z`, style: `fill:${colour}`, 'fill-opacity': 0.55 }),
    s('path', { d: path(without), class: 'without' }),
    instead ? s('path', { d: path(instead), class: 'instead' }) : null,
    s('path', { d: path(withIt), class: 'fitted' }),
    channels.map((_, k) =>
      s('circle', {
        cx: x(k).toFixed(1),
        cy: y(seen[k]).toFixed(1),
        r: channels.length > 60 ? 0.9 : 1.3,
        class: 'counted',
      }),
    ),
    bottom === 0 ? s('path', { d: `M0 ${BASE}H${WIDTH}`, class: 'base' }) : null,
  );
}

/** Where the picture begins: at zero, or above it when the element is but a ripple on what is there without it. */
const floorBelow = (lowest: number, top: number): number =>
  lowest < 0.5 * top ? 0 : Math.max(0, lowest - 0.5 * (top - lowest));

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

import type { FoundLine } from '@limner/core';
import { nearestChannel } from '../figure/bands.ts';
import { s } from '../dom.ts';
import { counts as countsText, keV } from '../format.ts';
import { FIT, INK } from '../palette.ts';
import type { CurvesView, LayerView } from '../reading.ts';

const WIDTH = 168;
const HEIGHT = 84;
const BASE = HEIGHT - 1;

export interface Glimpse {
  readonly line: FoundLine;
  readonly from: number;
  readonly to: number;
}

/** Up to three of an element's lines that show it best, each with the channels around it; lines under a stronger one are left out. */
export function chooseGlimpses(lines: readonly FoundLine[], layer: LayerView, curves: CurvesView): Glimpse[] {
  const chosen: Glimpse[] = [];
  for (const line of [...lines].sort((a, b) => b.counts - a.counts)) {
    const at = nearestChannel(curves.energyEv, line.energyEv);
    if (line.counts <= 0 || chosen.some(({ from, to }) => at >= from && at <= to)) continue;
    const glimpse = around(line, at, layer);
    if (glimpse) chosen.push(glimpse);
    if (chosen.length === 3) break;
  }
  return chosen.sort((a, b) => a.line.energyEv - b.line.energyEv);
}

/** The channels over which the layer falls to a fiftieth of its height at the line, and half as many again on both sides. */
function around(line: FoundLine, at: number, layer: LayerView): Glimpse | null {
  const height = layer.counts[at] ?? 0;
  if (!(height > 0)) return null;
  let from = at;
  let to = at;
  while (from > 0 && layer.counts[from] > height / 50 && at - from < 80) from--;
  while (to + 1 < layer.counts.length && layer.counts[to] > height / 50 && to - at < 80) to++;
  const more = Math.ceil((to - from) / 4);
  return { line, from: Math.max(0, from - more), to: Math.min(layer.counts.length - 1, to + more) };
}

/** A small picture of the counts around a line, with the fit and with the fit less this element; what lies between is the element. */
export function drawGlimpse(
  { line, from, to }: Glimpse,
  layer: LayerView,
  curves: CurvesView,
  colour: string,
  name: string,
): SVGElement {
  const channels = Array.from({ length: to - from + 1 }, (_, i) => from + i);
  const withIt = channels.map((i) => curves.total[i]);
  const without = channels.map((i) => curves.total[i] - layer.counts[i]);
  const seen = channels.map((i) => curves.counts[i]);
  const top = 1.08 * Math.max(...withIt, ...seen, 1);
  const x = (k: number) => ((k + 0.5) / channels.length) * WIDTH;
  const y = (value: number) => BASE - (Math.max(0, value) / top) * (HEIGHT - 4);
  const path = (values: readonly number[]) =>
    values.map((value, k) => `${k ? 'L' : 'M'}${x(k).toFixed(1)} ${y(value).toFixed(1)}`).join('');
  const back = [...without].map((value, k) => `L${x(k).toFixed(1)} ${y(value).toFixed(1)}`).reverse();
  return s(
    'svg',
    {
      viewBox: `0 0 ${WIDTH} ${HEIGHT}`,
      class: 'glimpse',
      role: 'img',
      'aria-label':
        `Around ${keV(line.energyEv)}: ${countsText(sum(seen))} counts measured, ${countsText(sum(withIt))} expected with ${name}, ` +
        `${countsText(sum(without))} without.`,
    },
    s('path', { d: `${path(withIt)}${back.join('')}Z`, fill: colour, 'fill-opacity': 0.55 }),
    s('path', { d: path(without), fill: 'none', stroke: INK, 'stroke-width': 1.1, 'stroke-dasharray': '3 2' }),
    s('path', { d: path(withIt), fill: 'none', stroke: FIT, 'stroke-width': 1.1 }),
    channels.map((_, k) =>
      s('circle', { cx: x(k).toFixed(1), cy: y(seen[k]).toFixed(1), r: channels.length > 60 ? 0.9 : 1.3, fill: INK }),
    ),
    s('path', { d: `M0 ${BASE}H${WIDTH}`, stroke: INK, 'stroke-width': 0.6 }),
  );
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

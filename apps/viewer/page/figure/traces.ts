import { channelText, type ChannelTold, keV } from '@limner/core';
import type { Dash, ScatterData } from 'plotly.js-dist-min';
import { stack, type Band } from './bands.ts';
import type { Inks, LayerLook } from '../palette.ts';
import type { AlternativeView, CurvesView, LayerView } from '../reading.ts';
import type { Overlay } from './overlay.ts';
import type { PlotState } from './plot-state.ts';
import type { Scale } from './scale.ts';

type Trace = Partial<ScatterData>;

/** All traces of the figure: background, layers, fit, measured counts, and the misfit below. */
export function traces(
  curves: CurvesView,
  { scale, compared, overlays }: Pick<PlotState, 'scale' | 'compared' | 'overlays'>,
  inks: Inks,
  looks: ReadonlyMap<string, LayerLook>,
  openOnes: ReadonlySet<string>,
): Trace[] {
  const kev = Array.from(curves.energyEv, (ev) => ev / 1000);
  const inFit = (values: ArrayLike<number>) =>
    Array.from(values, (value, i) => (curves.total[i] > 0 ? scale.of(value) : null));
  return [
    backgroundTrace(curves, kev, scale, inks),
    ...stack(curves).map((band) => bandTrace(band, kev, scale, inks, looks, openOnes)),
    ...(compared ? comparedTraces(compared, kev, inFit, inks) : []),
    ...overlays.map((overlay, i) => overlayTrace(overlay, i, scale, inks)),
    {
      name: 'fit',
      x: kev,
      y: inFit(curves.total),
      mode: 'lines',
      line: { color: inks.fit, width: 1.1 },
      hoverinfo: 'skip',
    },
    {
      name: 'measured',
      x: kev,
      y: Array.from(curves.counts, scale.of),
      mode: 'lines',
      line: { color: inks.ink, width: 0.9, shape: 'hvh' },
      text: Array.from(curves.energyEv, (ev, i) => [keV(ev), ...channelText(channelTold(curves, i))].join('<br>')),
      hovertemplate: '%{text}<extra></extra>',
    },
    misfitTrace(curves, kev, inks),
  ];
}

/** Another explanation over the fit: without an element, and with its rival. */
function comparedTraces(
  { without, instead }: AlternativeView,
  kev: number[],
  inFit: (values: ArrayLike<number>) => (number | null)[],
  { accent, ink }: Inks,
): Trace[] {
  const line = { x: kev, mode: 'lines', hoverinfo: 'skip' } as const;
  return [
    { ...line, name: 'without', y: inFit(without), line: { color: ink, width: 1.4, dash: 'dash' } },
    ...(instead ? [{ ...line, name: 'instead', y: inFit(instead.expected), line: { color: accent, width: 1.2 } }] : []),
  ];
}

/** In the order in which `overlayText` names them. */
const OVERLAY_DASHES: readonly Dash[] = ['dot', 'dashdot', 'longdash', 'longdashdot'];

/** Another spectrum, over the fit and under what was measured here. */
const overlayTrace = ({ name, energyEv, counts }: Overlay, i: number, scale: Scale, inks: Inks): Trace => ({
  name,
  x: energyEv.map((ev) => ev / 1000),
  y: counts.map(scale.of),
  mode: 'lines',
  line: { color: i % 2 === 0 ? inks.accent : inks.ink, width: 1.6, dash: OVERLAY_DASHES[i % OVERLAY_DASHES.length] },
  hoverinfo: 'skip',
});

function backgroundTrace(curves: CurvesView, kev: number[], scale: Scale, inks: Inks): Trace {
  const inFit = Array.from(curves.total, (value) => value > 0);
  return {
    name: 'background',
    x: kev.filter((_, i) => inFit[i]),
    y: Array.from(curves.background, scale.of).filter((_, i) => inFit[i]),
    mode: 'lines',
    fill: 'tozeroy',
    fillcolor: inks.background,
    line: { color: inks.artefact, width: 0.7, dash: 'dot' },
    hoverinfo: 'skip',
  };
}

/** A layer as closed outlines; artefacts are hatched, elements whose verdict is open have a broken outline. */
function bandTrace(
  band: Band,
  kev: number[],
  scale: Scale,
  inks: Inks,
  looks: ReadonlyMap<string, LayerLook>,
  openOnes: ReadonlySet<string>,
): Trace {
  const x: (number | null)[] = [];
  const y: (number | null)[] = [];
  for (const { from, to, lower, upper } of band.runs) {
    for (let i = from; i <= to; i++) push(x, y, kev[i], scale.of(upper[i - from]));
    for (let i = to; i >= from; i--) push(x, y, kev[i], scale.of(lower[i - from]));
    push(x, y, null, null);
  }
  const look = band.layer.kind === 'artefact' ? undefined : looks.get(band.layer.name);
  const colour = look ? inks.layers[look.colour] : inks.artefact;
  return {
    name: band.layer.name,
    x,
    y,
    mode: 'lines',
    fill: 'toself',
    ...fillOf(band.layer.kind, look, colour),
    line: { color: colour, width: 0.8, dash: openOnes.has(band.layer.name) ? 'dash' : 'solid' },
    hoverinfo: 'skip',
  };
}

function push(x: (number | null)[], y: (number | null)[], atX: number | null, atY: number | null): void {
  x.push(atX);
  y.push(atY);
}

/** Nearly opaque: layers stand upon each other and never overlap; the grid shines through. */
const translucent = (hex: string): string => `${hex}d9`;

/** Counts minus fit over the standard deviation that the fit expects. */
function misfitTrace(curves: CurvesView, kev: number[], inks: Inks): Trace {
  return {
    name: 'misfit',
    x: kev,
    y: kev.map((_, i) => {
      const model = curves.total[i];
      return model > 0 ? (curves.counts[i] - model) / Math.sqrt(Math.max(1, model)) : null;
    }),
    yaxis: 'y2',
    mode: 'lines',
    line: { color: inks.ink, width: 0.6, shape: 'hvh' },
    hoverinfo: 'skip',
  };
}

/** Artefacts are hatched; of two elements that share a colour, the weaker is dotted. */
function fillOf(kind: LayerView['kind'], look: LayerLook | undefined, colour: string): Trace {
  const bgcolor = 'rgba(255,255,255,0)';
  if (kind === 'artefact') return { fillpattern: { shape: '/', size: 5, solidity: 0.25, fgcolor: colour, bgcolor } };
  if (look?.dotted) return { fillpattern: { shape: '.', size: 5, solidity: 0.5, fgcolor: colour, bgcolor } };
  return { fillcolor: translucent(colour) };
}

/** What is at a channel, for telling it. */
export function channelTold({ counts, total, background, layers }: CurvesView, i: number): ChannelTold {
  const parts = [{ name: 'background', counts: background }, ...layers];
  return {
    counted: counts[i],
    model: total[i],
    parts: parts.map((part) => ({ name: part.name, counts: part.counts[i] })),
  };
}

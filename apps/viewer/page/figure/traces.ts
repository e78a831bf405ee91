import { counts as countsText, percent } from '@limner/core';
import type { ScatterData } from 'plotly.js-dist-min';
import { stack, type Band } from './bands.ts';
import { ARTEFACT, BACKGROUND, FIT, INK } from '../palette.ts';
import type { CurvesView, LayerView } from '../reading.ts';
import type { Scale } from './scale.ts';

type Trace = Partial<ScatterData>;

/** All traces of the figure: background, layers, fit, measured counts, and the misfit below. */
export function traces(
  curves: CurvesView,
  scale: Scale,
  colours: ReadonlyMap<string, string>,
  openOnes: ReadonlySet<string>,
): Trace[] {
  const kev = Array.from(curves.energyEv, (ev) => ev / 1000);
  const fitted = Array.from(curves.total, (value) => (value > 0 ? scale.of(value) : null));
  return [
    backgroundTrace(curves, kev, scale),
    ...stack(curves).map((band) => bandTrace(band, kev, scale, colours, openOnes)),
    {
      name: 'fit',
      x: kev,
      y: fitted,
      mode: 'lines',
      line: { color: FIT, width: 1.1 },
      hoverinfo: 'skip',
    },
    {
      name: 'measured',
      x: kev,
      y: Array.from(curves.counts, scale.of),
      mode: 'lines',
      line: { color: INK, width: 0.9, shape: 'hvh' },
      text: hoverTexts(curves),
      hovertemplate: '%{x:.3f} keV<br>%{text}<extra></extra>',
    },
    misfitTrace(curves, kev),
  ];
}

function backgroundTrace(curves: CurvesView, kev: number[], scale: Scale): Trace {
  const inFit = Array.from(curves.total, (value) => value > 0);
  return {
    name: 'background',
    x: kev.filter((_, i) => inFit[i]),
    y: Array.from(curves.background, scale.of).filter((_, i) => inFit[i]),
    mode: 'lines',
    fill: 'tozeroy',
    fillcolor: BACKGROUND,
    line: { color: ARTEFACT, width: 0.7, dash: 'dot' },
    hoverinfo: 'skip',
  };
}

/** A layer as closed outlines; artefacts are hatched, elements whose verdict is open have a broken outline. */
function bandTrace(
  band: Band,
  kev: number[],
  scale: Scale,
  colours: ReadonlyMap<string, string>,
  openOnes: ReadonlySet<string>,
): Trace {
  const x: (number | null)[] = [];
  const y: (number | null)[] = [];
  for (const { from, to, lower, upper } of band.runs) {
    for (let i = from; i <= to; i++) push(x, y, kev[i], scale.of(upper[i - from]));
    for (let i = to; i >= from; i--) push(x, y, kev[i], scale.of(lower[i - from]));
    push(x, y, null, null);
  }
  const artefact = band.layer.kind === 'artefact';
  const colour = artefact ? ARTEFACT : (colours.get(band.layer.name) ?? ARTEFACT);
  return {
    name: band.layer.name,
    x,
    y,
    mode: 'lines',
    fill: 'toself',
    ...(artefact
      ? { fillpattern: { shape: '/', size: 5, solidity: 0.25, fgcolor: colour, bgcolor: 'rgba(255,255,255,0)' } }
      : { fillcolor: translucent(colour) }),
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
function misfitTrace(curves: CurvesView, kev: number[]): Trace {
  return {
    name: 'misfit',
    x: kev,
    y: kev.map((_, i) => {
      const model = curves.total[i];
      return model > 0 ? (curves.counts[i] - model) / Math.sqrt(Math.max(1, model)) : null;
    }),
    yaxis: 'y2',
    mode: 'lines',
    line: { color: INK, width: 0.6, shape: 'hvh' },
    hoverinfo: 'skip',
  };
}

/** Per channel: the counts, the fit, and the parts that carry a tenth of it or more. */
function hoverTexts(curves: CurvesView): string[] {
  const parts: LayerView[] = [{ kind: 'artefact', name: 'background', counts: curves.background }, ...curves.layers];
  return Array.from(curves.counts, (counted, i) => {
    const model = curves.total[i];
    if (!(model > 0)) return `${countsText(counted)} counts, outside the fit`;
    const carried = parts
      .map(({ name, counts }) => ({ name, share: counts[i] / model }))
      .filter(({ share }) => share >= 0.1)
      .sort((a, b) => b.share - a.share)
      .map(({ name, share }) => `${name} ${percent(share)}`);
    return `${countsText(counted)} counts, fit ${countsText(model)}<br>${carried.join(', ')}`;
  });
}

import type * as PlotlyModule from 'plotly.js-dist-min';
import type { Annotation, Dash, Data, Layout, Shape } from 'plotly.js-dist-min';
import { layerLabels, type LinesOf, markLabels, questionMarks, type Sight } from './labels.ts';
import { topsOf } from './overlay.ts';
import type { PlotState } from './plot-state.ts';
import { traces } from './traces.ts';
import { greyOf, inksNow, type Inks, type LayerLook } from '../palette.ts';
import { asOnPaper } from '../theme.ts';
import type { CurvesView, MarkedLine } from '../reading.ts';
import { bottomOf, tickText } from './scale.ts';

/** Plotly is large; it loads beside the page, and the words do not wait for it. */
const plotly = (): Promise<typeof PlotlyModule> => {
  const { href } = document.getElementById('plotly') as HTMLLinkElement;
  return (import(href) as Promise<{ default: typeof PlotlyModule }>).then((module) => module.default);
};

export interface Plot {
  /** Draws with the given state. @param anew the colours may have changed */
  draw(state: PlotState, anew?: boolean): Promise<void>;
  /** Calls back with the span that was drawn up with the mouse, or null for a double click. */
  onZoom(listener: (rangeKev: [number, number] | null) => void): void;
  /** Calls back with the channel under the mouse. */
  onPoint(listener: (channel: number) => void): void;
  /** The same drawing as SVG for paper. */
  picture(state: PlotState): Promise<Picture>;
}

export interface Picture {
  readonly svg: string;
  readonly width: number;
  readonly height: number;
}

/** What the verdicts add to the curves. */
export interface PlotNotes {
  /** Symbols of the elements that stay open. */
  readonly open: ReadonlySet<string>;
  readonly unexplainedEv: readonly number[];
  readonly lines: LinesOf;
}

const MARGIN = { r: 12, t: 26, b: 44 };
/** Left of the axis: room for its title, and for each character of the longest number, px. */
const TITLE_PX = 42;
const DIGIT_PX = 7.5;
const MARK_RAIL_PX = 78;
/** Part of the height that the misfit takes. */
const MISFIT_PART = 0.2;
/** Room above the tallest peak for its name. */
const HEADROOM = 1.14;

/** Puts a Plotly figure into the element. Heights follow the tallest count in sight; only energy zooms. */
export async function createPlot(
  element: HTMLElement,
  curves: CurvesView,
  looks: ReadonlyMap<string, LayerLook>,
  notes: PlotNotes,
): Promise<Plot> {
  const Plotly = await plotly();
  let drawn: PlotState | null = null;
  const graph = element as unknown as { on(name: string, listen: (event: Record<string, unknown>) => void): void };
  return {
    async draw(state, anew = false) {
      const inks = state.grey ? onPaper(state) : inksNow();
      const layout = layoutOf(curves, state, notes, element.clientWidth, inks);
      if (
        !anew &&
        drawn?.scale === state.scale &&
        drawn.grey === state.grey &&
        drawn.compared === state.compared &&
        drawn.overlays === state.overlays
      )
        await Plotly.relayout(element, layout);
      else await Plotly.react(element, traces(curves, state, inks, looks, notes.open), layout, CONFIG);
      drawn = state;
    },
    onZoom(listener) {
      graph.on('plotly_relayout', (event) => {
        const from = event['xaxis.range[0]'];
        const to = event['xaxis.range[1]'];
        if (typeof from === 'number' && typeof to === 'number') listener([from, to]);
      });
      graph.on('plotly_doubleclick', () => listener(null));
    },
    onPoint(listener) {
      graph.on('plotly_hover', ({ points }) => {
        const [point] = points as readonly { readonly pointIndex: number }[];
        if (point) listener(point.pointIndex);
      });
    },
    async picture(state) {
      const inks = onPaper(state);
      const layout = layoutOf(curves, state, notes, PICTURE_PX, inks);
      const data = traces(curves, state, inks, looks, notes.open) as Data[];
      const size = { width: PICTURE_PX, height: layout.height ?? 0 };
      const url = await Plotly.toImage({ data, layout }, { format: 'svg', ...size });
      return { svg: decodeURIComponent(url.slice(url.indexOf(',') + 1)), ...size };
    },
  };
}

const onPaper = ({ grey }: PlotState): Inks => asOnPaper(() => (grey ? greyOf(inksNow()) : inksNow()));

/** Width of a drawing for paper: a figure of a page's width has letters of about 9 points then. */
const PICTURE_PX = 960;

const CONFIG = { displayModeBar: false, doubleClick: false, responsive: false, scrollZoom: false } as const;

function layoutOf(
  curves: CurvesView,
  state: PlotState,
  notes: PlotNotes,
  widthPx: number,
  inks: Inks,
): Partial<Layout> {
  const axis = axisIn(inks);
  const { scale, rangeKev, marked } = state;
  const tops = topsOf(curves, state.overlays);
  const { lowest, highest } = extentIn(curves, tops, rangeKev);
  const bottom = bottomOf(scale, lowest);
  const top = bottom + (scale.of(highest) - bottom) * HEADROOM;
  const ticks = scale.ticks(highest);
  const narrow = widthPx < 560;
  const tall = narrow ? 340 : 460;
  const numbers = ticks.map(tickText);
  const longest = DIGIT_PX * Math.max(...numbers.map(({ length }) => length));
  const margin = { ...MARGIN, l: (narrow ? 0 : TITLE_PX) + Math.max(longest, 5 * DIGIT_PX), ...(narrow && { r: 6 }) };
  const sight: Sight = {
    fromKev: rangeKev[0],
    toKev: rangeKev[1],
    widthPx: Math.max(100, widthPx - margin.l - margin.r),
    heightPx: (tall - MARGIN.t - MARGIN.b) * (1 - MISFIT_PART),
    bottom,
    top,
  };
  const touch = matchMedia('(pointer: coarse)').matches;
  return {
    width: widthPx,
    height: tall + (marked.length ? MARK_RAIL_PX : 0),
    margin: { ...margin, t: MARGIN.t + (marked.length ? MARK_RAIL_PX : 0) },
    paper_bgcolor: state.grey ? '#ffffff' : 'rgba(0,0,0,0)',
    plot_bgcolor: 'rgba(0,0,0,0)',
    font: { family: getComputedStyle(document.body).fontFamily, size: 13, color: inks.ink },
    showlegend: false,
    hovermode: 'x',
    dragmode: touch ? false : 'zoom',
    xaxis: {
      ...axis,
      range: [...rangeKev],
      title: { text: 'energy, keV', standoff: 6 },
      anchor: 'y2',
      ticks: 'outside',
    },
    yaxis: {
      ...axis,
      domain: [MISFIT_PART, 1],
      range: [bottom, top],
      fixedrange: true,
      tickvals: ticks.map(scale.of),
      ticktext: numbers,
      gridcolor: inks.grid,
      title: { text: narrow ? '' : `counts per channel`, standoff: 8 },
    },
    yaxis2: {
      ...axis,
      domain: [0, 0.14],
      range: [-5, 5],
      fixedrange: true,
      tickvals: [-3, 0, 3],
      ticktext: ['−3 σ', '0', '3 σ'],
      gridcolor: inks.grid,
      tickfont: { size: 10 },
    },
    annotations: [
      ...layerLabels(curves, tops, notes.lines, scale, sight),
      ...questionMarks(notes.unexplainedEv, curves, scale, sight, inks.fit),
      ...markLabels(marked, sight),
    ] as Annotation[],
    shapes: marked.flatMap(({ lines, dash }) => lines.map((line) => markShape(line, dash, inks.ink))),
  };
}

const axisIn = ({ ink }: Inks) =>
  ({ zeroline: false, showgrid: true, gridcolor: 'rgba(0,0,0,0)', linecolor: ink, tickcolor: ink }) as const;

/** A mark across the figure; the fainter the line, the paler. */
function markShape({ energyEv, strength }: MarkedLine, dash: Dash, colour: string): Partial<Shape> {
  return {
    type: 'line',
    x0: energyEv / 1000,
    x1: energyEv / 1000,
    y0: MISFIT_PART,
    y1: 1,
    yref: 'paper',
    opacity: 0.2 + 0.6 * Math.sqrt(strength),
    line: { color: colour, width: 1, dash },
  };
}

/** The least of the model and the most of all that is drawn in sight. */
function extentIn({ energyEv, total }: CurvesView, tops: ArrayLike<number>, [from, to]: readonly [number, number]) {
  let highest = 4;
  let lowest = Infinity;
  for (let i = 0; i < tops.length; i++) {
    if (energyEv[i] < 1000 * from || energyEv[i] > 1000 * to) continue;
    highest = Math.max(highest, tops[i]);
    if (total[i] > 0) lowest = Math.min(lowest, total[i]);
  }
  return { lowest: Math.min(lowest, highest), highest };
}

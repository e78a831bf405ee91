import {
  alternativeText,
  figureProvenance,
  GREY_CAPTION,
  SPECTRUM_CAPTION,
  SPECTRUM_HINT,
  SPECTRUM_LABEL,
} from '@limner/core';
import type { Dash } from 'plotly.js-dist-min';
import { h } from '../dom.ts';
import type { MarkedElement } from './labels.ts';
import { createCursor } from './cursor.ts';
import { captioned, savePng, saveSvg } from './export.ts';
import { type Beside, createLaid } from './laid.ts';
import { createPlot, type Plot, type PlotNotes } from './plot.ts';
import type { PlotState } from './plot-state.ts';
import { markForm } from './mark-form.ts';
import type { LayerLook } from '../palette.ts';
import type { AlternativeView, DrawnReading } from '../reading.ts';
import { SCALES } from './scale.ts';
import { greyChoice, keyRange, type Kind, saveTools, scaleChoice, zoomButtons } from './tools.ts';

export interface Figure {
  readonly element: HTMLElement;
  /** Draws once the element stands in the page. */
  readonly show: () => Promise<void>;
  /** Draws anew after a change of width. */
  readonly redraw: () => void;
  /** Marks the lines of an element, or takes the marks away again. */
  readonly toggleMarks: (symbol: string) => Promise<void>;
  /** Draws another explanation over the fit, or takes it away again. */
  readonly compare: (symbol: string, compared: AlternativeView | null) => Promise<void>;
  readonly look: () => Look;
}

/** Which part of the spectrum is looked at, on which scale, and whether in greys. */
export type Look = Pick<PlotState, 'scale' | 'rangeKev' | 'grey'>;

const DASHES: readonly Dash[] = ['dash', 'dot', 'longdash', 'longdashdot'];

/** The spectrum as a figure: measured counts, fit, background and the layers of the ledger, with its controls and caption. */
export function createFigure(
  reading: DrawnReading,
  looks: ReadonlyMap<string, LayerLook>,
  beside: Beside,
  from: Look | null,
): Figure {
  const { curves, record } = reading;
  const whole = wholeRange(reading);
  let plot: Plot | null = null;
  let state: PlotState = {
    scale: from?.scale ?? SCALES.root,
    rangeKev: from?.rangeKev ?? whole,
    grey: from?.grey ?? false,
    marked: [],
    compared: null,
    overlays: [],
  };
  const canvas = h('div', { class: 'plot', tabindex: 0, role: 'img', 'aria-label': SPECTRUM_LABEL });
  const caption = h('span', {}, `${captionOf(state)} `);
  const cursor = createCursor(reading);
  const comparison = h('p', { class: 'comparison', role: 'status' });

  async function change(part: Partial<PlotState>): Promise<void> {
    state = { ...state, ...part };
    await plot?.draw(state);
  }
  const look = (rangeKev: [number, number]) => change({ rangeKev: within(rangeKev, whole) });
  const marks = markForm(record, (found) => change({ marked: withDashes(found) }));

  async function compare(symbol: string, compared: AlternativeView | null): Promise<void> {
    const end = h('button', { type: 'button', class: 'chip', onclick: () => void compare(symbol, null) }, 'remove ×');
    const told = compared && alternativeText(symbol, compared.instead?.name ?? null);
    comparison.replaceChildren(...(told ? [`${told} `, end] : []));
    await change({ compared });
  }

  const laid = createLaid(beside, cursor.energyEv, (overlays) => change({ overlays }));

  async function saveAs(kind: Kind): Promise<void> {
    if (!plot) return;
    const { svg, width, height } = await plot.picture(state);
    const told = [state.compared ? (comparison.firstChild?.textContent ?? '') : '', ...laid.told()];
    const text = [captionOf(state), ...told.filter(Boolean), ...figureProvenance(record)];
    const whole = captioned(svg, width, height, text);
    const name = `${record.source.name}.${kind}`;
    if (kind === 'svg') saveSvg(whole, name);
    else await savePng(whole, name);
  }

  canvas.addEventListener('keydown', (event) => {
    if (event.shiftKey && cursor.step(event.key)) return event.preventDefault();
    const next = keyRange(event.key, state.rangeKev, whole);
    if (!next) return;
    event.preventDefault();
    void look(next);
  });

  return {
    element: h(
      'figure',
      { class: 'spectrum' },
      h(
        'div',
        { class: 'figure-tools' },
        scaleChoice(state.scale, (scale) => void change({ scale })),
        zoomButtons(() => state.rangeKev, whole, look),
        marks.element,
        laid.form,
        greyChoice(state.grey, (grey) => {
          caption.textContent = `${captionOf({ grey })} `;
          void change({ grey });
        }),
        saveTools(saveAs),
      ),
      comparison,
      laid.list,
      canvas,
      cursor.element,
      h('figcaption', {}, caption, h('span', { class: 'screen-only' }, SPECTRUM_HINT)),
    ),
    async show() {
      plot = await createPlot(canvas, curves, looks, notesOf(record));
      await plot.draw(state);
      plot.onZoom((rangeKev) => void look(rangeKev ?? whole));
      plot.onPoint(cursor.at);
      followWidth(canvas, () => void plot?.draw(state));
      await laid.restore();
    },
    redraw: () => void plot?.draw(state, true),
    toggleMarks: marks.toggle,
    compare,
    look: () => state,
  };
}

const notesOf = ({ elements, peaks }: DrawnReading['record']): PlotNotes => ({
  open: new Set(elements.filter(({ verdict }) => verdict === 'open').map(({ symbol }) => symbol)),
  lines: new Map(elements.map(({ symbol, lines }) => [symbol, lines])),
  unexplainedEv: peaks.filter((peak) => peak.explainedBy.length === 0).map((peak) => peak.energyEv),
});

function wholeRange({ record, curves }: DrawnReading): [number, number] {
  const last = curves.energyEv[curves.energyEv.length - 1] ?? 0;
  return [0, Math.min(last, Math.max(record.axis.rangeEv[1], 1000 * record.conditions.beamKev.value)) / 1000];
}

function within([from, to]: [number, number], whole: [number, number]): [number, number] {
  const span = Math.min(Math.max(to - from, 0.1), whole[1] - whole[0]);
  const start = Math.min(Math.max(from, whole[0]), whole[1] - span);
  return [start, start + span];
}

const captionOf = ({ grey }: Pick<PlotState, 'grey'>): string => (grey ? GREY_CAPTION : SPECTRUM_CAPTION);

const withDashes = (found: readonly Omit<MarkedElement, 'dash'>[]): MarkedElement[] =>
  found.map((element, i) => ({ ...element, dash: DASHES[i % DASHES.length] }));

/** Redraws when the width of the element changes, on paper too. */
function followWidth(element: HTMLElement, redraw: () => void): void {
  let width = element.clientWidth;
  new ResizeObserver(() => {
    if (element.clientWidth === width || element.clientWidth === 0) return;
    width = element.clientWidth;
    redraw();
  }).observe(element);
}

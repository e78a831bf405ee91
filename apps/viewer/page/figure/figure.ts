import { SPECTRUM_CAPTION, SPECTRUM_HINT, SPECTRUM_LABEL } from '@limner/core';
import type { Dash } from 'plotly.js-dist-min';
import { h } from '../dom.ts';
import type { MarkedElement } from './labels.ts';
import { createPlot, type Plot, type PlotNotes, type PlotState } from './plot.ts';
import { markForm } from './mark-form.ts';
import type { LayerLook } from '../palette.ts';
import type { ReadingView } from '../reading.ts';
import { type Scale, SCALES, type ScaleName } from './scale.ts';

export interface Figure {
  readonly element: HTMLElement;
  /** Draws once the element stands in the page. */
  readonly show: () => Promise<void>;
  /** Draws anew after a change of width. */
  readonly redraw: () => void;
  /** Marks the lines of an element, or takes the marks away again. */
  readonly toggleMarks: (symbol: string) => Promise<void>;
  readonly look: () => Look;
}

/** Which part of the spectrum is looked at, and on which scale. */
export type Look = Pick<PlotState, 'scale' | 'rangeKev'>;

const DASHES: readonly Dash[] = ['dash', 'dot', 'longdash', 'longdashdot'];

/** The spectrum as a figure: measured counts, fit, background and the layers of the ledger, with its controls and caption. */
export function createFigure(reading: ReadingView, looks: ReadonlyMap<string, LayerLook>, from: Look | null): Figure {
  const { curves, record } = reading;
  const whole = wholeRange(reading);
  let plot: Plot | null = null;
  let state: PlotState = { scale: from?.scale ?? SCALES.root, rangeKev: from?.rangeKev ?? whole, marked: [] };
  const canvas = h('div', {
    class: 'plot',
    tabindex: 0,
    role: 'img',
    'aria-label': SPECTRUM_LABEL,
  });

  async function change(part: Partial<PlotState>): Promise<void> {
    state = { ...state, ...part };
    await plot?.draw(state);
  }
  const look = (rangeKev: [number, number]) => change({ rangeKev: within(rangeKev, whole) });
  const marks = markForm(record, (found) => change({ marked: withDashes(found) }));

  canvas.addEventListener('keydown', (event) => {
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
        zoomButtons(() => state, whole, look),
        marks.element,
      ),
      canvas,
      caption(),
    ),
    async show() {
      plot = await createPlot(canvas, curves, looks, notesOf(record));
      await plot.draw(state);
      plot.onZoom((rangeKev) => void look(rangeKev ?? whole));
      followWidth(canvas, () => void plot?.draw(state));
    },
    redraw: () => void plot?.draw(state, true),
    toggleMarks: marks.toggle,
    look: () => state,
  };
}

const notesOf = ({ elements, peaks }: ReadingView['record']): PlotNotes => ({
  open: new Set(elements.filter(({ verdict }) => verdict === 'open').map(({ symbol }) => symbol)),
  unexplainedEv: peaks.filter((peak) => peak.explainedBy.length === 0).map((peak) => peak.energyEv),
});

function wholeRange({ record, curves }: ReadingView): [number, number] {
  const last = curves.energyEv[curves.energyEv.length - 1] ?? 0;
  return [0, Math.min(last, Math.max(record.axis.rangeEv[1], 1000 * record.conditions.beamKev.value)) / 1000];
}

function within([from, to]: [number, number], whole: [number, number]): [number, number] {
  const span = Math.min(Math.max(to - from, 0.1), whole[1] - whole[0]);
  const start = Math.min(Math.max(from, whole[0]), whole[1] - span);
  return [start, start + span];
}

/** Where a key leads: arrows move by a quarter, plus and minus zoom about the middle, 0 shows all. */
function keyRange(
  key: string,
  [from, to]: readonly [number, number],
  whole: [number, number],
): [number, number] | null {
  const span = to - from;
  switch (key) {
    case 'ArrowLeft':
      return [from - span / 4, to - span / 4];
    case 'ArrowRight':
      return [from + span / 4, to + span / 4];
    case '+':
    case '=':
      return [from + span / 4, to - span / 4];
    case '-':
      return [from - span / 2, to + span / 2];
    case '0':
      return whole;
    default:
      return null;
  }
}

function zoomButtons(
  state: () => PlotState,
  whole: [number, number],
  look: (range: [number, number]) => Promise<void>,
) {
  const button = (text: string, label: string, key: string) =>
    h(
      'button',
      { type: 'button', 'aria-label': label, onclick: () => void look(keyRange(key, state().rangeKev, whole)!) },
      text,
    );
  return h(
    'div',
    { class: 'zoom', role: 'group', 'aria-label': 'Part of the axis in sight' },
    button('←', 'Move to lower energy', 'ArrowLeft'),
    button('→', 'Move to higher energy', 'ArrowRight'),
    button('closer', 'Closer', '+'),
    button('wider', 'Wider', '-'),
    button('whole', 'Whole spectrum', '0'),
  );
}

function scaleChoice(chosen: Scale, choose: (scale: (typeof SCALES)[ScaleName]) => void): HTMLElement {
  const choice = (name: ScaleName) =>
    h(
      'label',
      {},
      h('input', {
        type: 'radio',
        name: 'scale',
        value: name,
        checked: SCALES[name] === chosen,
        onchange: () => choose(SCALES[name]),
      }),
      SCALES[name].label,
    );
  return h('fieldset', { class: 'scale' }, h('legend', {}, 'Counts'), choice('linear'), choice('root'), choice('log'));
}

const caption = (): HTMLElement =>
  h('figcaption', {}, `${SPECTRUM_CAPTION} `, h('span', { class: 'screen-only' }, SPECTRUM_HINT));

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

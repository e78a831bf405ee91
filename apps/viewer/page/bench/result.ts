import {
  type BenchAnswer,
  type BenchCurves,
  benchFigureLabel,
  type BenchState,
  type BenchVerdict,
  type BenchWords,
  type Table,
} from '@limner/core';
import { h } from '../dom.ts';
import { type Band, figure, swatch } from './figure.ts';
import { rangeKevOf, type Sight } from './sight.ts';

/** The figure of a state: with the parts once they are known, the bare counts before. */
export function spectrumFigure(
  curves: BenchCurves,
  answer: BenchAnswer | null,
  state: BenchState,
  sight: Sight,
  widthPx: number,
  peakEv: number | null,
): SVGSVGElement {
  const rangeKev = rangeKevOf(sight, peakEv, state.beamKev);
  return figure({
    energyEv: curves.energyEv,
    bands: answer ? bandsOf(answer) : [],
    curves: [
      { values: curves.counts, role: 'counts' },
      ...(answer ? [{ values: answer.without, role: 'without' as const }] : []),
    ],
    residual: answer ? answer.residual : null,
    rangeKev,
    scale: sight.scale,
    widthPx,
    heightPx: widthPx < 560 ? 380 : 440,
    label: benchFigureLabel(rangeKev, answer?.symbol ?? null),
  });
}

/** Parts stacked over what is continuum and detector. */
function bandsOf({ layers, withIt }: BenchAnswer): Band[] {
  const lower = withIt.slice();
  for (const { counts } of layers) counts.forEach((value, i) => (lower[i] -= value));
  let base = lower.map((value) => Math.max(0, value));
  return layers.map(({ name, counts }, p) => {
    const upper = base.map((value, i) => value + counts[i]);
    const band = { name, lower: base, upper, pattern: p + 1 };
    base = upper;
    return band;
  });
}

/** Parts by name and pattern with their counts, and the lines that tell: the figure as tables. */
export const tables = ({ parts, lines }: BenchWords): HTMLElement =>
  h('div', { class: 'tables' }, parts && tableOf(parts, (r) => swatch(r + 1)), lines && tableOf(lines));

/** A table of core's telling. @param before what stands in front of a row */
const tableOf = ({ caption, columns, rows }: Table, before?: (r: number) => Element): HTMLElement =>
  table(
    caption,
    [...(before ? [''] : []), ...columns.map(({ title }) => title)],
    rows.map(({ cells }, r) => [...(before ? [before(r)] : []), ...cells.map(({ text }) => text)]),
  );

function table(
  caption: string,
  heads: readonly string[],
  rows: readonly (readonly (string | Element)[])[],
): HTMLElement {
  return h(
    'table',
    {},
    h('caption', {}, caption),
    h(
      'thead',
      {},
      h(
        'tr',
        {},
        heads.map((head) => h('th', { scope: 'col' }, head)),
      ),
    ),
    h(
      'tbody',
      {},
      rows.map((cells) =>
        h(
          'tr',
          {},
          cells.map((cell) => h('td', {}, cell)),
        ),
      ),
    ),
  );
}

export const sentences = ({ lead, more }: BenchWords): HTMLElement =>
  h(
    'div',
    { class: 'sentences' },
    h('p', { class: 'lead' }, lead),
    more.map((text) => h('p', {}, text)),
  );

/** What the full reading says, which was told nothing of the recipe. */
export function verdictBlock({ told, rows }: BenchVerdict): HTMLElement {
  return h(
    'div',
    {},
    h('p', {}, told),
    table(
      'Verdicts',
      ['element', 'verdict', 'probability'],
      rows.map(({ symbol, verdict, probability }) => [symbol, verdict, probability]),
    ),
  );
}

import { type BenchAnswer, type BenchCurves, type BenchState, type BenchVerdict, type BenchWords } from '@limner/core';
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
  const label = answer
    ? `Simulated spectrum from ${rangeKev[0].toFixed(1)} to ${rangeKev[1].toFixed(1)} keV, explained with and without ${answer.symbol}, and the misfit without it. The tables below hold the figures.`
    : `Simulated spectrum from ${rangeKev[0].toFixed(1)} to ${rangeKev[1].toFixed(1)} keV.`;
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
    label,
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

const whole = (value: number): string => Math.round(value).toLocaleString('en').replaceAll(',', '\u00a0');

/** Parts by name and pattern with their counts, and the lines that tell: the figure as tables. */
export function tables(answer: BenchAnswer): HTMLElement {
  const counts = answer.layers.map((layer) => layer.counts.reduce((sum, value) => sum + value, 0));
  const all = answer.withIt.reduce((sum, value) => sum + value, 0);
  return h(
    'div',
    { class: 'tables' },
    table(
      'Counts of each part',
      ['', 'part', 'counts in its lines', 'of all'],
      answer.layers.map(({ name }, p) => [
        swatch(p + 1),
        name,
        whole(counts[p]),
        `${((100 * counts[p]) / all).toFixed(1)} %`,
      ]),
    ),
    table(
      `Lines that tell, with and without ${answer.symbol}`,
      ['line', 'keV', 'counts with', 'without', 'σ there'],
      answer.lines.map(({ symbol, line, energyEv, expectedIfTrue, expectedIfNot, weight }) => [
        `${symbol} ${line}`,
        (energyEv / 1000).toFixed(3),
        whole(expectedIfTrue),
        whole(expectedIfNot),
        weight.toFixed(1),
      ]),
    ),
  );
}

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
      rows.length === 0
        ? h('tr', {}, h('td', { colspan: heads.length }, 'none'))
        : rows.map((cells) =>
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
export function verdictBlock({ present, open, rows }: BenchVerdict): HTMLElement {
  return h(
    'div',
    {},
    h('p', {}, `Present: ${present}. Open: ${open}.`),
    table(
      'Verdicts',
      ['element', 'verdict', 'probability'],
      rows.map(({ symbol, verdict, probability }) => [symbol, verdict, probability]),
    ),
  );
}

import { elementName, matrixText, placeText, shadeOf, zOf } from '@limner/core';
import type { OverviewElement, OverviewSpectrum } from '@limner/session';
import { h } from '../dom.ts';
import type { Grid } from '../table-tools.ts';
import type { Sort } from './choice.ts';

/** A mark that is told apart without its shade: full where the counts require the element, a ring where it is open. */
const MARK = { present: '●', open: '○' } as const;

/** The matrix of spectra and elements: a row per spectrum, a column per element, each heading a button that sorts. */
export function matrixOf(
  spectra: readonly OverviewSpectrum[],
  symbols: readonly string[],
  sort: Sort,
  onSort: (by: string) => void,
): HTMLElement {
  const heading = (by: string, text: string, label: string) =>
    h(
      'th',
      { scope: 'col', 'aria-sort': by === sort.by ? (sort.descending ? 'descending' : 'ascending') : null },
      h('button', { type: 'button', 'aria-label': `${text}: sort by ${label}`, onclick: () => onSort(by) }, text),
    );
  return h(
    'div',
    { class: 'matrix', tabindex: 0, role: 'region', 'aria-label': 'Spectra and elements' },
    h(
      'table',
      {},
      h(
        'thead',
        {},
        h(
          'tr',
          {},
          heading('place', 'Spectrum', 'sample and layer'),
          symbols.map((symbol) => heading(symbol, symbol, elementName(zOf(symbol)!))),
          heading('best', 'Fits best', 'material'),
        ),
      ),
      h(
        'tbody',
        {},
        spectra.map((spectrum) => rowOf(spectrum, symbols)),
      ),
    ),
  );
}

/** The matrix as text: amounts in words, as its cells say them. */
export const matrixGrid = (spectra: readonly OverviewSpectrum[], symbols: readonly string[]): Grid => [
  ['Spectrum', ...symbols, 'Fits best'],
  ...spectra.map((spectrum) => {
    const bySymbol = new Map(spectrum.elements.map((element) => [element.symbol, matrixText(element)]));
    return [shortName(spectrum), ...symbols.map((symbol) => bySymbol.get(symbol) ?? ''), fitsBest(spectrum.best)];
  }),
];

function rowOf(spectrum: OverviewSpectrum, symbols: readonly string[]): HTMLElement {
  const { file, summary, elements, best } = spectrum;
  const bySymbol = new Map(elements.map((element) => [element.symbol, element]));
  return h(
    'tr',
    {},
    h('th', { scope: 'row' }, h('a', { href: `#${encodeURIComponent(file)}`, title: summary }, shortName(spectrum))),
    symbols.map((symbol) => cellOf(bySymbol.get(symbol))),
    h('td', { class: 'best' }, fitsBest(best)),
  );
}

function cellOf(element: OverviewElement | undefined): HTMLElement {
  if (!element) return h('td', {});
  const { verdict } = element;
  const told = matrixText(element);
  return h(
    'td',
    { class: `${verdict} shade-${shadeOf(element)}`, title: told },
    h('span', { 'aria-hidden': 'true' }, MARK[verdict]),
    h('span', { class: 'unseen' }, told),
  );
}

/** 'P1, layer 2, g01'; the file's name where the sheet does not tell. */
export function shortName({ place, file }: OverviewSpectrum): string {
  return place ? placeText(place.sample, place.layer, place.particle || file) : file;
}

export const fitsBest = (best: OverviewSpectrum['best']): string => best?.name ?? '';

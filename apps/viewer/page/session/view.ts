import {
  choiceText,
  copyText,
  kindChoice,
  MATRIX_KEY,
  OUTSIDE,
  OVERVIEW_COLUMNS,
  type Pace,
  progressText,
  TO_REPORT,
  UNLIKE,
} from '@limner/core';
import type { Overview, OverviewSpectrum } from '@limner/session';
import { h } from '../dom.ts';
import type { Choice } from './choice.ts';
import { tableTools } from '../table-tools.ts';
import { fitsBest, matrixGrid, matrixOf, shortName } from './matrix.ts';
import type { OrderedSpectra } from './ordered.ts';

/** Spectra on one page of the tables. */
const PER_PAGE = 100;

/** The session as a whole: a sentence, the layers, then its spectra as a table and as a matrix of elements. */
export function createSessionView(
  overview: Overview,
  spectra: OrderedSpectra,
  from: Choice,
  remember: (choice: Choice) => void,
): HTMLElement {
  const { symbols } = spectra;
  // Only the number of spectra left is told aloud at each choice, not the tables whole.
  const count = h('p', { class: 'lead-in', role: 'status' });
  const tables = h('div', {});
  const results = h('div', { class: 'results' }, count, tables);
  let choice = from;
  let page = 0;
  const render = (): void => {
    const rows = spectra.chosen(choice);
    const pages = Math.max(1, Math.ceil(rows.length / PER_PAGE));
    page = Math.min(page, pages - 1);
    const shown = rows.slice(page * PER_PAGE, (page + 1) * PER_PAGE);
    const turn = (to: number): void => {
      page = to;
      render();
      results.scrollIntoView({ block: 'start' });
    };
    const onSort = (by: string): void => {
      const descending = by === choice.sort.by ? !choice.sort.descending : by.length <= 2;
      choose({ sort: { by, descending } });
      results.querySelector<HTMLElement>('th[aria-sort] button')?.focus();
    };
    count.textContent = choiceText(rows.length, spectra.size);
    tables.replaceChildren(
      pages > 1 ? pagesOf(page, pages, turn) : '',
      h('h2', {}, 'Elements by spectrum'),
      h('p', { class: 'lead-in' }, MATRIX_KEY),
      matrixOf(shown, symbols, choice.sort, onSort),
      tableTools('Elements by spectrum', () => matrixGrid(rows, symbols)),
      h('h2', {}, 'Spectra by layer'),
      tableOf(shown),
      tableTools('Spectra by layer', () => [TITLES, ...rows.map(cellsOf)]),
    );
  };
  const choose = (part: Partial<Choice>): void => {
    choice = { ...choice, ...part };
    page = 0;
    remember(choice);
    render();
  };
  render();
  return h(
    'article',
    { class: 'session' },
    h('h1', {}, 'The session'),
    h('p', { class: 'summary' }, overview.summary),
    h('p', { class: 'to-report screen-only' }, h('a', { href: 'report.html' }, TO_REPORT.link), TO_REPORT.holds),
    layersPart(overview),
    filtersOf(overview, symbols, choice, choose),
    results,
    failuresPart(overview),
  );
}

function layersPart({ samples, figureStyle }: Overview): HTMLElement | string {
  const drawn = samples.filter(({ figure }) => figure !== '');
  if (drawn.length === 0) return '';
  const figures = drawn.map(({ sample, figure }) => {
    const holder = h('div', {}, h('h3', {}, `Sample ${sample}`));
    // Made by the session package, which escapes all text from files.
    holder.insertAdjacentHTML('beforeend', figure);
    return holder;
  });
  return h(
    'section',
    { class: 'strata', 'aria-label': 'Layers of the samples' },
    h('style', {}, figureStyle),
    h('h2', {}, 'Layers, surface at the top'),
    h('div', { class: 'strata-figures' }, figures),
  );
}

function filtersOf(
  { spectra, kinds }: Overview,
  symbols: readonly string[],
  choice: Choice,
  choose: (part: Partial<Choice>) => void,
): HTMLElement {
  const samples = [...new Set(spectra.flatMap(({ place }) => place?.sample ?? []))].sort();
  const layers = [...new Set(spectra.flatMap(({ place }) => (place ? String(place.layer ?? 'beside') : [])))].sort(
    (a, b) => Number(a === 'beside') - Number(b === 'beside') || Number(a) - Number(b),
  );
  const select = (name: keyof Choice, label: string, options: readonly (readonly [string, string])[]) =>
    options.length < 2
      ? ''
      : h(
          'label',
          {},
          label,
          h(
            'select',
            { name, onchange: (event) => choose({ [name]: (event.target as HTMLSelectElement).value }) },
            [['', 'all'] as const, ...options].map(([value, text]) =>
              h('option', { value, selected: choice[name] === value }, text),
            ),
          ),
        );
  return h(
    'form',
    { class: 'filters', 'aria-label': 'Which spectra', onsubmit: (event) => event.preventDefault() },
    h(
      'label',
      {},
      'Text',
      h('input', {
        type: 'search',
        name: 'text',
        value: choice.text,
        oninput: (event) => choose({ text: (event.target as HTMLInputElement).value }),
      }),
    ),
    select(
      'sample',
      'Sample',
      samples.map((sample) => [sample, sample]),
    ),
    select(
      'layer',
      'Layer',
      layers.map((layer) => [layer, layer === 'beside' ? OUTSIDE : layer]),
    ),
    select(
      'element',
      'Element',
      [...symbols].sort().map((symbol) => [symbol, symbol]),
    ),
    select('kind', 'Kind', [
      ...kinds.map(({ number, name, spectra: count }) => [String(number), kindChoice(name, count)] as const),
      ['none', UNLIKE],
    ]),
  );
}

function pagesOf(page: number, pages: number, turn: (to: number) => void): HTMLElement {
  const button = (text: string, to: number) =>
    h('button', { type: 'button', disabled: to < 0 || to >= pages, onclick: () => turn(to) }, text);
  return h(
    'nav',
    { class: 'pages', 'aria-label': 'Pages' },
    button('Previous', page - 1),
    h('span', {}, `Page ${page + 1} of ${pages}`),
    button('Next', page + 1),
  );
}

const TITLES = ['spectrum', ...OVERVIEW_COLUMNS.slice(1).map(({ title }) => title), 'warnings'];

/** What a spectrum's row says, under those titles. */
function cellsOf(spectrum: OverviewSpectrum): string[] {
  const symbols = (verdict: 'present' | 'open'): string =>
    spectrum.elements.flatMap((element) => (element.verdict === verdict ? element.symbol : [])).join(' ');
  const copy = spectrum.copyOf === null ? [] : [copyText(spectrum.copyOf)];
  const warnings = [...copy, ...spectrum.warnings].join(' ');
  return [shortName(spectrum), symbols('present'), symbols('open'), fitsBest(spectrum.best), warnings];
}

/** A row per spectrum, without the columns that are empty here; on a narrow page a block, each cell under its title. */
function tableOf(spectra: readonly OverviewSpectrum[]): HTMLElement {
  const rows = spectra.map((spectrum) => ({ spectrum, cells: cellsOf(spectrum) }));
  const kept = TITLES.map((_, i) => i).filter((i) => i > 0 && rows.some(({ cells }) => cells[i] !== ''));
  const row = ({ spectrum, cells }: (typeof rows)[number]) =>
    h(
      'tr',
      {},
      h('th', { scope: 'row' }, h('a', { href: `#${encodeURIComponent(spectrum.file)}` }, cells[0])),
      kept.map((i) => h('td', { 'data-label': TITLES[i] }, cells[i])),
    );
  const titles = [0, ...kept].map((i) => h('th', { scope: 'col' }, TITLES[i]));
  return h('table', { class: 'spectra' }, h('thead', {}, h('tr', {}, titles)), h('tbody', {}, rows.map(row)));
}

function failuresPart({ failures }: Overview): HTMLElement | string {
  if (failures.length === 0) return '';
  return h(
    'section',
    { class: 'failures' },
    h('h2', {}, 'Files that could not be read'),
    h(
      'ul',
      {},
      failures.map(({ file, reason }) =>
        h('li', {}, h('a', { href: `#${encodeURIComponent(file)}` }, file), `: ${reason}`),
      ),
    ),
  );
}

/** The page while the session is being read. */
export function progressView(pace: Pace): HTMLElement {
  const { done, total } = pace;
  return h(
    'article',
    { class: 'session' },
    h('h1', {}, 'The session is being read'),
    h(
      'progress',
      total > 0 ? { max: total, value: done, 'aria-label': 'Spectra read' } : { 'aria-label': 'Spectra read' },
    ),
    h('p', { class: 'lead-in' }, progressText(pace)),
  );
}

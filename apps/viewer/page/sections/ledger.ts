import type { LimnerRecord } from '@limner/core';
import { h } from '../dom.ts';
import { counts, fixed, keV, lineName, measured } from '../format.ts';

type Peak = LimnerRecord['peaks'][number];
const NEAREST_LINES = 4;

/** Peaks that nothing explains come first and open; all the others are folded. */
export function peaksSection({ peaks }: LimnerRecord): HTMLElement | null {
  if (peaks.length === 0) return null;
  const unexplained = peaks.filter((peak) => peak.explainedBy.length === 0);
  return h(
    'section',
    { class: 'peaks', 'aria-labelledby': 'peaks' },
    h('h2', { id: 'peaks' }, 'Peaks'),
    unexplained.length
      ? [
          h('p', { class: 'lead-in' }, 'Not explained by any element or artefact:'),
          peakTable(unexplained, 'Unexplained peaks'),
        ]
      : h('p', { class: 'lead-in' }, 'Every peak found without any element in mind is explained.'),
    h(
      'details',
      { class: 'folded', 'data-paper': true },
      h('summary', {}, `All ${peaks.length} peaks, with the lines that could make them`),
      peakTable(peaks, 'All peaks'),
    ),
  );
}

function peakTable(peaks: readonly Peak[], label: string): HTMLElement {
  return table(
    label,
    ['Energy, keV', 'Counts', 'Carried by', 'Nearest lines'],
    peaks.map((peak) => [
      measured({ value: peak.energyEv / 1000, sigma: peak.energySigmaEv / 1000 }),
      measured({ value: peak.counts, sigma: peak.sigma }),
      peak.explainedBy.join(', ') || 'nothing',
      peak.candidates
        .slice(0, NEAREST_LINES)
        .map((line) => `${line.symbol} ${lineName(line)} ${keV(line.energyEv)}`)
        .join('; ') || 'none near',
    ]),
  );
}

const PARTS = {
  background: 'background',
  element: 'element',
  artefact: 'artefact',
  unexplained: 'unexplained',
  'outside-range': 'outside the fitted range',
} as const;

/** The account of every count; it adds up to what was measured. */
export function ledgerSection({ ledger, conditions }: LimnerRecord): HTMLElement {
  const total = conditions.totalCounts;
  const share = (value: number) => `${fixed((100 * value) / total, 1)} %`;
  const ordered = [...ledger].sort((a, b) => b.counts - a.counts);
  const element = table(
    'Ledger',
    ['Part', 'Name', 'Counts', 'Share'],
    [
      ...ordered.map(({ part, name, counts: n }) => [PARTS[part], name === part ? '' : name, counts(n), share(n)]),
      ['sum', '', counts(total), share(ordered.reduce((sum, entry) => sum + entry.counts, 0))],
    ],
  );
  element.classList.add('ledger');
  return h(
    'section',
    { 'aria-labelledby': 'ledger' },
    h('h2', { id: 'ledger' }, 'Account of the counts'),
    h('p', { class: 'lead-in' }, 'Every count of the spectrum, and what it is put down to.'),
    element,
  );
}

/** A table that scrolls by itself where the page is narrow. */
export function table(label: string, head: readonly string[], rows: readonly (readonly string[])[]): HTMLElement {
  return h(
    'div',
    { class: 'scroll', tabindex: 0, role: 'group', 'aria-label': label },
    h(
      'table',
      {},
      h(
        'thead',
        {},
        h(
          'tr',
          {},
          head.map((text) => h('th', { scope: 'col' }, text)),
        ),
      ),
      h(
        'tbody',
        {},
        rows.map(([first = '', ...rest]) =>
          h(
            'tr',
            {},
            h('th', { scope: 'row' }, first),
            rest.map((text) => h('td', {}, text)),
          ),
        ),
      ),
    ),
  );
}

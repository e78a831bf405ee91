import type { LedgerEntry } from '../../identify/finding.ts';
import type { LimnerRecord } from '../../record/record.ts';
import { NEAREST_LINES } from '../terms/cutoffs.ts';
import { artefactName, lineName } from '../terms/names.ts';
import { counts, fixed, measured } from '../terms/numerals.ts';
import { cell, column, type Node, paragraph, row, section, table } from './tree.ts';
import { barePeaks } from './answer.ts';

/** Every peak that the blind search found, with what explains it. */
export function peaks(record: LimnerRecord): Node | null {
  const bare = barePeaks(record).length;
  const columns = [
    column('energy', 'energy, keV', 'right'),
    column('counts', 'counts', 'right'),
    column('by', 'explained by'),
    column('lines', 'nearest lines'),
  ];
  const rows = record.peaks.map((peak, i) =>
    row(
      `peak-${i + 1}`,
      [
        cell(measured({ value: peak.energyEv, sigma: peak.energySigmaEv }, 1e-3), peak.energyEv / 1000),
        cell(measured({ value: peak.counts, sigma: peak.sigma }), peak.counts),
        cell(peak.explainedBy.map(artefactName).join(', ') || 'nothing'),
        cell(
          peak.candidates
            .slice(0, NEAREST_LINES)
            .map((line) => `${line.symbol}\u00a0${lineName(line)}`)
            .join(', ') || 'none',
        ),
      ],
      'full',
    ),
  );
  return section(
    'peaks',
    'Peaks found by a blind search',
    [
      bare === 0 ? paragraph('peaks-note', 'All are explained.', 'full', 'note') : null,
      table('peak-table', 'Peaks', columns, rows, 'full'),
    ],
    'full',
  );
}

const PARTS: Readonly<Record<LedgerEntry['part'], string>> = {
  background: 'background',
  element: 'element',
  artefact: 'artefact',
  unexplained: 'unexplained',
  'outside-range': 'outside the fitted range',
};

/** The ledger of all counts; it adds up to what was measured. */
export function ledger({ ledger: entries, conditions: { totalCounts } }: LimnerRecord): Node | null {
  const share = (value: number): string => fixed((100 * value) / totalCounts, 1);
  const ordered = [...entries].sort((a, b) => b.counts - a.counts);
  const sum = ordered.reduce((total, entry) => total + entry.counts, 0);
  const columns = [
    column('part', 'part'),
    column('name', 'name'),
    column('counts', 'counts', 'right'),
    column('share', '%', 'right'),
  ];
  const rows = ordered.map(({ part, name, counts: value }) =>
    row(
      `ledger-${part}-${name}`,
      [cell(PARTS[part]), cell(artefactName(name)), cell(counts(value), value), cell(share(value), value)],
      'full',
    ),
  );
  return section(
    'ledger',
    'Ledger of all counts',
    [
      table(
        'ledger-table',
        'Ledger of all counts',
        columns,
        [...rows, row('ledger-sum', [cell('sum'), cell(''), cell(counts(sum), sum), cell(share(sum), sum)], 'full')],
        'full',
      ),
    ],
    'full',
  );
}

import type { LimnerRecord } from '../record/record.ts';
import { bestFitting, findingsWith } from './sections/answer.ts';
import { cell, column, type Row, row } from './sections/tree.ts';
import type { Verdict } from '../identify/finding.ts';

/** Columns of a table with a row for each of many spectra. */
export const OVERVIEW_COLUMNS = [
  column('file', 'file'),
  column('present', 'required by the counts'),
  column('open', 'open'),
  column('best', 'fits best'),
];

/** One reading as a row of that table. */
export function overviewRow(record: LimnerRecord): Row {
  const symbols = (verdict: Verdict): string =>
    findingsWith(record, verdict)
      .map(({ symbol }) => symbol)
      .join(' ');
  const best = bestFitting(record);
  return row('overview', [
    cell(record.source.name),
    cell(symbols('present')),
    cell(symbols('open')),
    cell(best?.name ?? ''),
  ]);
}

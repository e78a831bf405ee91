import { stringify } from 'csv-stringify/sync';

export type Cell = string | number | null;

/**
 * Comma-separated lines (RFC 4180 quoting). Text that a spreadsheet would take for a formula (it begins with = + - @, tab or
 * carriage return) gets a single quote in front, since titles and file names come from outside; numbers stay numbers.
 */
export function csv(rows: readonly (readonly Cell[])[]): string {
  return rows.length === 0
    ? ''
    : stringify(
        rows.map((row) => [...row]),
        { escape_formulas: true, record_delimiter: '\n' },
      );
}

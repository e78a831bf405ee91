import { parse } from 'csv-parse/sync';

/** A line of a CSV text (RFC 4180) with a heading: cells by column. */
export interface CsvRow {
  readonly line: number;
  readonly cells: ReadonlyMap<string, string>;
}

/**
 * Lines of a CSV text as spreadsheets write it: comma or semicolon, a byte order mark or none; blank lines are skipped.
 * @throws Error where quotes do not close or a line has too many cells
 */
export function csvRows(text: string): CsvRow[] {
  const parsed = parse(text, {
    bom: true,
    delimiter: [',', ';'],
    info: true,
    relax_column_count: true,
    skip_empty_lines: true,
    trim: true,
  }) as unknown as { record: string[]; info: { lines: number } }[];
  const [head, ...rows] = parsed;
  const names = (head?.record ?? []).map((name) => name.toLowerCase());
  return rows.map(({ record, info }) => ({
    line: info.lines,
    cells: new Map(names.map((name, i) => [name, record[i] ?? ''])),
  }));
}

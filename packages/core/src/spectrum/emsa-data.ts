import { parseKeywordLine, type EmsaHeader } from './emsa-header.ts';
import { EmsaError } from './emsa-error.ts';
import { MAX_CHANNELS } from './limits.ts';
import type { LineReader } from './line-reader.ts';
import type { FileWarnings } from './file-warning.ts';
import { RowParser } from './row-parser.ts';

/** The numbers of the data block in order, with the line of each, and how many stood in a row. */
export interface Rows {
  readonly values: number[];
  readonly lines: number[];
  /** Numbers in the first row; `uniform` when all rows but the last have as many. */
  width: number;
  uniform: boolean;
  /** Rows with numbers. */
  count: number;
  /** The text stopped inside the data, without ENDOFDATA and without a line end. */
  cutOff: boolean;
}

/**
 * Reads the data block up to ENDOFDATA; keywords inside it and CHECKSUM after it go to the header.
 * @param firstRow a data row that was met before any SPECTRUM line, or null
 * @throws EmsaError 'data-unreadable', 'empty-field', 'decimal-comma', 'too-many-channels', 'header-too-long'
 */
export function readRows(
  reader: LineReader,
  header: EmsaHeader,
  firstRow: string | null,
  warnings: FileWarnings,
): Rows {
  const rows: Rows = { values: [], lines: [], width: 0, uniform: true, count: 0, cutOff: false };
  const parser = new RowParser(warnings);
  let lastWidth = 0;
  for (let row = firstRow ?? reader.next(); row !== null; row = reader.next()) {
    if (row.trimStart().startsWith('#')) {
      const entry = parseKeywordLine(row);
      if (entry.key === 'ENDOFDATA') {
        readTail(reader, header, warnings);
        return rows;
      }
      warnings.add({ code: 'keyword-in-data', line: reader.line, keyword: entry.key });
      header.add(entry, reader.line);
      continue;
    }
    const before = rows.values.length;
    parser.parse(row, reader.line, (value) => push(rows, value, reader.line));
    const width = rows.values.length - before;
    if (width === 0) continue;
    if (rows.count === 0) rows.width = width;
    else if (lastWidth !== rows.width) rows.uniform = false;
    lastWidth = width;
    rows.count++;
  }
  rows.cutOff = !reader.closed;
  warnings.add({ code: 'endofdata-missing' });
  return rows;
}

function push(rows: Rows, value: number, line: number): void {
  if (rows.values.length >= 2 * MAX_CHANNELS) {
    throw new EmsaError({ code: 'too-many-channels', channels: 'beyond' }, line);
  }
  rows.values.push(value);
  rows.lines.push(line);
}

/** After the data only a checksum has meaning. */
function readTail(reader: LineReader, header: EmsaHeader, warnings: FileWarnings): void {
  for (let line = reader.next(); line !== null; line = reader.next()) {
    if (/^\s*#\s*CHECKSUM/i.test(line)) header.add(parseKeywordLine(line), reader.line);
    else if (/^\s*#\s*FORMAT/i.test(line)) {
      warnings.add({ code: 'second-spectrum', line: reader.line });
    } else if (!['', '\u001a'].includes(line.trim())) {
      warnings.add({ code: 'text-after-end', line: reader.line });
      if (reader.line > 2 * MAX_CHANNELS) return;
    }
  }
}

import { parseKeywordLine, type EmsaHeader } from './emsa-header.ts';
import { EmsaError, quoted } from './emsa-error.ts';
import { MAX_CHANNELS } from './limits.ts';
import type { LineReader } from './line-reader.ts';
import type { Notes } from './notes.ts';
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
export function readRows(reader: LineReader, header: EmsaHeader, firstRow: string | null, notes: Notes): Rows {
  const rows: Rows = { values: [], lines: [], width: 0, uniform: true, count: 0, cutOff: false };
  const parser = new RowParser(notes);
  let lastWidth = 0;
  for (let row = firstRow ?? reader.next(); row !== null; row = reader.next()) {
    if (row.trimStart().startsWith('#')) {
      const entry = parseKeywordLine(row);
      if (entry.key === 'ENDOFDATA') {
        readTail(reader, header, notes);
        return rows;
      }
      notes.add(
        'keyword-in-data',
        `Line ${reader.line}: ${quoted(`#${entry.key}`)} stands among the data; it was kept as a keyword.`,
      );
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
  notes.add('endofdata-missing', 'The ENDOFDATA line is missing; the file may have been cut short.');
  return rows;
}

function push(rows: Rows, value: number, line: number): void {
  if (rows.values.length >= 2 * MAX_CHANNELS) {
    throw new EmsaError('too-many-channels', line, `there are more than ${MAX_CHANNELS} channels: no spectrum.`);
  }
  rows.values.push(value);
  rows.lines.push(line);
}

/** After the data only a checksum has meaning. */
function readTail(reader: LineReader, header: EmsaHeader, notes: Notes): void {
  for (let line = reader.next(); line !== null; line = reader.next()) {
    if (/^\s*#\s*CHECKSUM/i.test(line)) header.add(parseKeywordLine(line), reader.line);
    else if (/^\s*#\s*FORMAT/i.test(line)) {
      notes.add('second-spectrum', `Another spectrum begins in line ${reader.line}; only the first was read.`);
    } else if (!['', '\u001a'].includes(line.trim())) {
      notes.add('text-after-end', `What follows ENDOFDATA (line ${reader.line}) was not read.`);
      if (reader.line > 2 * MAX_CHANNELS) return;
    }
  }
}

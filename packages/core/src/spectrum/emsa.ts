import { axisOf } from './emsa-axis.ts';
import { readRows } from './emsa-data.ts';
import { EmsaHeader, parseKeywordLine } from './emsa-header.ts';
import { checkNature, fieldsOf } from './emsa-fields.ts';
import { channelsOf } from './emsa-layout.ts';
import { LineReader } from './line-reader.ts';
import type { FileWarnings } from './file-warning.ts';
import type { Content, EnergyAxis } from './spectrum.ts';

/**
 * Reads EMSA/MAS text: the header, the data, then what they mean.
 * @throws EmsaError
 */
export function readEmsa(text: string, given: EnergyAxis | undefined, warnings: FileWarnings): Content {
  const reader = new LineReader(text);
  const header = new EmsaHeader(warnings);
  const firstRow = readHeader(reader, header, warnings);
  const rows = readRows(reader, header, firstRow, warnings);
  checkFormat(header, warnings);
  checkNature(header, warnings);
  const channels = channelsOf(rows, header, warnings);
  const axis = axisOf(header, channels, given, warnings);
  return { ...fieldsOf(header, warnings), counts: channels.counts, axis, header: header.entries };
}

/** Reads up to the SPECTRUM line; returns the first data row when that line is missing. */
function readHeader(reader: LineReader, header: EmsaHeader, warnings: FileWarnings): string | null {
  for (let line = reader.next(); line !== null; line = reader.next()) {
    const trimmed = line.trim();
    if (trimmed === '') continue;
    if (!trimmed.startsWith('#')) {
      if (/^[-+.\d]/.test(trimmed)) {
        warnings.add({ code: 'spectrum-missing', line: reader.line });
        return line;
      }
      warnings.add({ code: 'stray-text', line: reader.line, found: trimmed });
      continue;
    }
    const entry = parseKeywordLine(trimmed);
    if (entry.key === 'SPECTRUM') return null;
    if (!trimmed.includes(':')) {
      warnings.add({ code: 'colon-missing', line: reader.line, found: trimmed });
    }
    header.add(entry, reader.line);
  }
  return null;
}

function checkFormat(header: EmsaHeader, warnings: FileWarnings): void {
  if (!/EMSA|ISO|MAS/i.test(header.text('FORMAT').slice(0, 200))) {
    warnings.add({ code: 'format-missing' });
  }
}

import { axisOf } from './emsa-axis.ts';
import { readRows } from './emsa-data.ts';
import { EmsaHeader, parseKeywordLine } from './emsa-header.ts';
import { checkNature, fieldsOf } from './emsa-fields.ts';
import { channelsOf } from './emsa-layout.ts';
import { quoted } from './emsa-error.ts';
import { LineReader } from './line-reader.ts';
import type { Notes } from './notes.ts';
import type { Content, EnergyAxis } from './spectrum.ts';

/**
 * Reads EMSA/MAS text: the header, the data, then what they mean.
 * @throws EmsaError
 */
export function readEmsa(text: string, given: EnergyAxis | undefined, notes: Notes): Content {
  const reader = new LineReader(text);
  const header = new EmsaHeader(notes);
  const firstRow = readHeader(reader, header, notes);
  const rows = readRows(reader, header, firstRow, notes);
  checkFormat(header, notes);
  checkNature(header, notes);
  const channels = channelsOf(rows, header, notes);
  const axis = axisOf(header, channels, given, notes);
  return { ...fieldsOf(header, notes), counts: channels.counts, axis, header: header.entries };
}

/** Reads up to the SPECTRUM line; returns the first data row when that line is missing. */
function readHeader(reader: LineReader, header: EmsaHeader, notes: Notes): string | null {
  for (let line = reader.next(); line !== null; line = reader.next()) {
    const trimmed = line.trim();
    if (trimmed === '') continue;
    if (!trimmed.startsWith('#')) {
      if (/^[-+.\d]/.test(trimmed)) {
        notes.add('spectrum-missing', `The SPECTRUM line is missing; the data begin in line ${reader.line}.`);
        return line;
      }
      notes.add('stray-text', `Line ${reader.line}, ${quoted(trimmed)}, has no keyword; it was not read.`);
      continue;
    }
    const entry = parseKeywordLine(trimmed);
    if (entry.key === 'SPECTRUM') return null;
    if (!trimmed.includes(':')) {
      notes.add('colon-missing', `Line ${reader.line}, ${quoted(trimmed)}, has no colon after the keyword.`);
    }
    header.add(entry, reader.line);
  }
  return null;
}

function checkFormat(header: EmsaHeader, notes: Notes): void {
  if (!/EMSA|ISO|MAS/i.test(header.text('FORMAT').slice(0, 200))) {
    notes.add('format-missing', 'The FORMAT line does not say EMSA/MAS; the file was read as such all the same.');
  }
}

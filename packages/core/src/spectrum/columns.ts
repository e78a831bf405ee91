import { axisText, isPlausible, unitByWidth, unitIn, type EnergyUnit } from './axis-rules.ts';
import { parseDecimal } from './decimal.ts';
import { EmsaError, quoted } from './emsa-error.ts';
import { checkCounts } from './emsa-layout.ts';
import { MAX_CHANNELS } from './limits.ts';
import { LineReader } from './line-reader.ts';
import { isAscending, isLinear, lineThrough } from './linear-axis.ts';
import type { Notes } from './notes.ts';
import { RowParser } from './row-parser.ts';
import type { Content, EnergyAxis } from './spectrum.ts';

/** Lines of words that may stand above the numbers. */
const MAX_HEADING_LINES = 200;
const REMEDY = 'Give the axis yourself as eV per channel and offset (--axis GAIN,OFFSET).';

interface Table {
  readonly columns: number[][];
  readonly lines: number[];
  readonly heading: string;
}

/**
 * Reads rows of energy and counts (or counts alone, with a given axis), parted by commas, semicolons, tabs or blanks.
 * @throws EmsaError 'not-a-spectrum', 'row-width', and those of the axis and the counts
 */
export function readColumns(text: string, given: EnergyAxis | undefined, notes: Notes): Content {
  const table = readTable(text, notes);
  const width = table.columns.length;
  const counts = Float64Array.from(table.columns[width === 1 ? 0 : 1]);
  checkCounts(counts, table.lines, notes);
  const { axis, how } = width === 1 ? countsAlone(given) : axisOfColumn(table, given);
  const rest = width > 2 ? ` The other ${width - 2} columns were not read.` : '';
  notes.add('columns-read', `Read as plain columns, not EMSA/MAS: ${how}; ${axisText(axis)}.${rest}`);
  const unknown = { beamKev: null, liveTimeS: null, realTimeS: null, probeCurrentNa: null, takeOffDeg: null };
  return { title: '', counts, axis, ...unknown, detector: NO_DETECTOR, header: [] };
}

const NO_DETECTOR = {
  type: '',
  berylliumWindowCm: null,
  aluminiumLayerCm: null,
  goldLayerCm: null,
  deadLayerCm: null,
  activeLayerCm: null,
  windowCm: null,
};

function readTable(text: string, notes: Notes): Table {
  const reader = new LineReader(text);
  const parser = new RowParser(notes);
  const columns: number[][] = [];
  const lines: number[] = [];
  let heading = '';
  let skipped = 0;
  for (let raw = reader.next(); raw !== null; raw = reader.next()) {
    const row = raw.replaceAll('"', '').trim();
    if (row === '') continue;
    if (row.startsWith('#') || (lines.length === 0 && !/^[-+.,\s]*\d/.test(row))) {
      if (lines.length === 0) {
        if (++skipped > MAX_HEADING_LINES) break;
        const words = row.slice(0, 200);
        if (['eV', 'keV', 'channel'].includes(unitIn(words))) heading = words;
      }
      continue;
    }
    const values: number[] = [];
    parser.parse(row, reader.line, (value) => {
      if (values.length < 100) values.push(value);
    });
    if (values.length === 0) continue;
    if (lines.length === 0) values.forEach(() => columns.push([]));
    if (values.length !== columns.length) throw widthError(reader.line, values.length, columns.length);
    values.forEach((value, i) => i < 2 && columns[i].push(value));
    lines.push(reader.line);
    if (lines.length > MAX_CHANNELS) {
      throw new EmsaError('too-many-channels', reader.line, `there are more than ${MAX_CHANNELS} rows: no spectrum.`);
    }
  }
  if (lines.length === 0) {
    const what = 'No EMSA/MAS keywords and no rows of numbers were found';
    throw new EmsaError(
      'not-a-spectrum',
      null,
      `${what} (it begins ${quoted(text.trimStart())}). Is this the right file?`,
    );
  }
  return { columns, lines, heading };
}

function widthError(line: number, found: number, expected: number): EmsaError {
  const message = `this row has ${found} numbers, the first one ${expected}. Correct the row or export again.`;
  return new EmsaError('row-width', line, message);
}

function countsAlone(given: EnergyAxis | undefined): { axis: EnergyAxis; how: string } {
  if (given !== undefined) return { axis: given, how: 'counts alone, with the given axis' };
  throw new EmsaError('axis-in-channels', null, `The file holds counts without energies. ${REMEDY}`);
}

function axisOfColumn(table: Table, given: EnergyAxis | undefined): { axis: EnergyAxis; how: string } {
  const x = Float64Array.from(table.columns[0]);
  if (!isAscending(x)) {
    const message = 'The first column must be the energy, rising from row to row; it is not.';
    throw new EmsaError('axis-not-linear', table.lines[0], message);
  }
  const line = lineThrough(x);
  if (!isLinear(line)) {
    throw new EmsaError('axis-not-linear', table.lines[0], 'the energies of the first column are not evenly spaced.');
  }
  const said = unitIn(table.heading);
  const byWidth = unitByWidth(line.gain);
  const unit: EnergyUnit | null = said === 'eV' || said === 'keV' ? said : said === 'channel' ? null : byWidth;
  if (unit === null) {
    if (given !== undefined) return { axis: given, how: 'counts by channel, with the given axis' };
    throw new EmsaError('axis-in-channels', table.lines[0], `the first column does not tell eV or keV. ${REMEDY}`);
  }
  const shift = unit === 'keV' ? 3 : 0;
  const axis = { offsetEv: parseDecimal(String(line.offset), shift)!, gainEv: parseDecimal(String(line.gain), shift)! };
  if (!isPlausible(axis, x.length)) {
    const message = `energies in ${unit} give an axis (${axisText(axis)}) no X-ray spectrum has. Check the unit.`;
    throw new EmsaError('axis-absurd', table.lines[0], message);
  }
  return { axis, how: `energy in ${unit} (${said === unit ? 'the heading says so' : 'told by its size'}) and counts` };
}

import { isPlausible, unitByWidth, unitIn } from './axis-rules.ts';
import { parseDecimal } from './decimal.ts';
import type { EnergyAxis, EnergyUnit } from './energy-axis.ts';
import { EmsaError } from './emsa-error.ts';
import { checkCounts } from './emsa-layout.ts';
import { MAX_CHANNELS } from './limits.ts';
import { LineReader } from './line-reader.ts';
import { isAscending, isLinear, lineThrough } from './linear-axis.ts';
import type { ColumnEnergies, FileWarnings } from './file-warning.ts';
import { RowParser } from './row-parser.ts';
import type { Content } from './spectrum.ts';

/** Lines of words that may stand above the numbers. */
const MAX_HEADING_LINES = 200;

interface ColumnAxis {
  readonly axis: EnergyAxis;
  readonly energies: ColumnEnergies;
}

interface Table {
  readonly columns: number[][];
  readonly lines: number[];
  readonly heading: string;
}

/**
 * Reads rows of energy and counts (or counts alone, with a given axis), separated by commas, semicolons, tabs or spaces.
 * @throws EmsaError 'not-a-spectrum', 'row-width', and those of the axis and the counts
 */
export function readColumns(text: string, given: EnergyAxis | undefined, warnings: FileWarnings): Content {
  const table = readTable(text, warnings);
  const width = table.columns.length;
  const counts = Float64Array.from(table.columns[width === 1 ? 0 : 1]);
  checkCounts(counts, table.lines, warnings);
  const { axis, energies } = width === 1 ? countsAlone(given) : axisOfColumn(table, given);
  warnings.add({ code: 'columns-read', axis, energies, unreadColumns: Math.max(0, width - 2) });
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

function readTable(text: string, warnings: FileWarnings): Table {
  const reader = new LineReader(text);
  const parser = new RowParser(warnings);
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
    if (values.length !== columns.length) {
      throw new EmsaError({ code: 'row-width', found: values.length, first: columns.length }, reader.line);
    }
    values.forEach((value, i) => i < 2 && columns[i].push(value));
    lines.push(reader.line);
    if (lines.length > MAX_CHANNELS) {
      throw new EmsaError({ code: 'too-many-channels', channels: 'beyond' }, reader.line);
    }
  }
  if (lines.length === 0) throw new EmsaError({ code: 'not-a-spectrum', start: text.trimStart() });
  return { columns, lines, heading };
}

function countsAlone(given: EnergyAxis | undefined): ColumnAxis {
  if (given !== undefined) return { axis: given, energies: { from: 'given-without-column' } };
  throw new EmsaError({ code: 'axis-in-channels', why: 'counts-alone' });
}

function axisOfColumn(table: Table, given: EnergyAxis | undefined): ColumnAxis {
  const x = Float64Array.from(table.columns[0]);
  if (!isAscending(x)) throw new EmsaError({ code: 'axis-not-linear', why: 'not-rising' }, table.lines[0]);
  const line = lineThrough(x);
  if (!isLinear(line)) throw new EmsaError({ code: 'axis-not-linear', why: 'uneven' }, table.lines[0]);
  const said = unitIn(table.heading);
  const byWidth = unitByWidth(line.gain);
  const unit: EnergyUnit | null = said === 'eV' || said === 'keV' ? said : said === 'channel' ? null : byWidth;
  if (unit === null) {
    if (given !== undefined) return { axis: given, energies: { from: 'given-for-channels' } };
    throw new EmsaError({ code: 'axis-in-channels', why: 'unit-unsaid' }, table.lines[0]);
  }
  const shift = unit === 'keV' ? 3 : 0;
  const axis = { offsetEv: parseDecimal(String(line.offset), shift)!, gainEv: parseDecimal(String(line.gain), shift)! };
  if (!isPlausible(axis, x.length)) throw new EmsaError({ code: 'axis-absurd', unit, stated: axis }, table.lines[0]);
  return { axis, energies: { from: said === unit ? 'heading' : 'size', unit } };
}

import type { Rows } from './emsa-data.ts';
import { EmsaError } from './emsa-error.ts';
import type { EmsaHeader } from './emsa-header.ts';
import { MAX_CHANNELS, MAX_COUNTS, MIN_CHANNELS } from './limits.ts';
import { isAscending } from './linear-axis.ts';
import type { Notes } from './notes.ts';

/** Counts per channel, the energy column where there was one, and the line of each channel. */
export interface Channels {
  readonly counts: Float64Array;
  readonly x: Float64Array | null;
  readonly lines: readonly number[];
}

/**
 * Parts the numbers into channels: the data decide whether energies stand before the counts, DATATYPE only helps.
 * @throws EmsaError 'no-data', 'data-ambiguous', 'too-few-channels', 'too-many-channels', and as `checkCounts`
 */
export function channelsOf(rows: Rows, header: EmsaHeader, notes: Notes): Channels {
  if (rows.values.length === 0) {
    throw new EmsaError('no-data', null, 'The file has a header but no counts. Export the spectrum again.');
  }
  const stated = pointsOf(header, notes);
  const paired = isPaired(rows, header, stated, notes);
  dropCutOff(rows, paired, stated, notes);
  if (paired && rows.values.length % 2 === 1) {
    throw new EmsaError('data-ambiguous', rows.lines.at(-1)!, 'an energy stands here without its counts.');
  }
  const stride = paired ? 2 : 1;
  const pick = (from: number): Float64Array =>
    Float64Array.from({ length: rows.values.length / stride }, (_, i) => rows.values[from + stride * i]);
  const counts = pick(stride - 1);
  const lines = paired ? rows.lines.filter((_, i) => i % 2 === 1) : rows.lines;
  checkCounts(counts, lines, notes);
  if (stated !== null && stated !== counts.length) {
    notes.add(
      'npoints-mismatch',
      `NPOINTS says ${stated} channels, but the data hold ${counts.length}; the data are used.`,
    );
  }
  return { counts, x: paired ? pick(0) : null, lines };
}

function pointsOf(header: EmsaHeader, notes: Notes): number | null {
  const number = header.number('NPOINTS');
  if (number !== null && Number.isInteger(number.value) && number.value > 0) return number.value;
  notes.add('npoints-missing', 'NPOINTS is missing or not a whole number; the channels were counted.');
  return null;
}

function isPaired(rows: Rows, header: EmsaHeader, stated: number | null, notes: Notes): boolean {
  const total = rows.values.length;
  const saysXy = header.text('DATATYPE').toUpperCase() === 'XY';
  const columns = header.number('NCOLUMNS')?.value ?? 1;
  const energies = Float64Array.from({ length: Math.floor(total / 2) }, (_, i) => rows.values[2 * i]);
  const ascending = isAscending(energies);
  const singles = rows.width === 1 && rows.uniform;
  const uniform = rows.uniform && rows.width > 1;
  if (saysXy) {
    if (ascending && (!singles || total === 2 * (stated ?? NaN))) return true;
    if (singles || total === stated) {
      notes.add('datatype-mismatch', 'DATATYPE says XY, but the data are counts alone (Y); read as such.');
      return false;
    }
    throw new EmsaError(
      'data-ambiguous',
      rows.lines[0],
      'DATATYPE says XY, but the data are not pairs of a rising energy and its counts. Export the spectrum again.',
    );
  }
  const rowsAreChannels = uniform && columns !== rows.width && total !== stated;
  if (rowsAreChannels && rows.width === 2 && ascending) {
    notes.add(
      'datatype-mismatch',
      'DATATYPE does not say XY, but each row holds an energy and its counts; read as XY.',
    );
    return true;
  }
  if (rowsAreChannels && (stated === null || stated === rows.count)) {
    throw new EmsaError(
      'data-ambiguous',
      rows.lines[0],
      `each row holds ${rows.width} numbers where one was announced (decimal commas?). Export with decimal points.`,
    );
  }
  return false;
}

/** The last number of a text that stops inside the data may have lost digits. */
function dropCutOff(rows: Rows, paired: boolean, stated: number | null, notes: Notes): void {
  const expected = (stated ?? 0) * (paired ? 2 : 1);
  if (!rows.cutOff || rows.values.length >= expected) return;
  const dropped = paired && rows.values.length % 2 === 0 ? 2 : 1;
  rows.values.length -= dropped;
  rows.lines.length -= dropped;
  notes.add('cut-off', 'The file stops in the middle of its data; the last channel, perhaps incomplete, was left out.');
}

/**
 * Counts must be finite and not negative: a negative count is the trace of a background subtracted before, and then
 * the counting statistics that everything here rests on are gone.
 * @throws EmsaError 'counts-not-finite', 'counts-negative', 'counts-absurd', 'too-few-channels', 'too-many-channels'
 */
export function checkCounts(counts: Float64Array, lines: readonly number[], notes: Notes): void {
  if (counts.length < MIN_CHANNELS || counts.length > MAX_CHANNELS) {
    const code = counts.length < MIN_CHANNELS ? 'too-few-channels' : 'too-many-channels';
    const message = `There are ${counts.length} channels; a spectrum has ${MIN_CHANNELS} to ${MAX_CHANNELS}. Is this the right file?`;
    throw new EmsaError(code, null, message);
  }
  let whole = true;
  counts.forEach((value, channel) => {
    if (!(value >= 0 && value <= MAX_COUNTS)) throw badCount(value, channel, lines[channel]);
    whole &&= Number.isInteger(value);
  });
  if (!whole) {
    const text =
      'Some counts are not whole numbers (a mean, or processed data): counting statistics hold only roughly.';
    notes.add('counts-not-integer', text);
  }
}

function badCount(value: number, channel: number, line: number): EmsaError {
  const where = `the counts of channel ${channel}`;
  if (!Number.isFinite(value)) {
    return new EmsaError('counts-not-finite', line, `${where} are not a finite number. Export the spectrum again.`);
  }
  if (value < 0) {
    const remedy = 'Export the counts as measured, without subtracting a background.';
    return new EmsaError('counts-negative', line, `${where} are negative (${value}). ${remedy}`);
  }
  return new EmsaError('counts-absurd', line, `${where} are ${value}, more than can be measured. Export again.`);
}

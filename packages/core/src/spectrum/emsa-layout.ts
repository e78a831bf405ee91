import type { Rows } from './emsa-data.ts';
import { EmsaError } from './emsa-error.ts';
import type { EmsaHeader } from './emsa-header.ts';
import { MAX_CHANNELS, MAX_COUNTS, MIN_CHANNELS } from './limits.ts';
import { isAscending } from './linear-axis.ts';
import type { FileWarnings } from './file-warning.ts';

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
export function channelsOf(rows: Rows, header: EmsaHeader, warnings: FileWarnings): Channels {
  if (rows.values.length === 0) {
    throw new EmsaError({ code: 'no-data' });
  }
  const stated = pointsOf(header, warnings);
  const paired = isPaired(rows, header, stated, warnings);
  dropCutOff(rows, paired, stated, warnings);
  if (paired && rows.values.length % 2 === 1) {
    throw new EmsaError({ code: 'data-ambiguous', why: 'half-a-pair' }, rows.lines.at(-1));
  }
  const stride = paired ? 2 : 1;
  const pick = (from: number): Float64Array =>
    Float64Array.from({ length: rows.values.length / stride }, (_, i) => rows.values[from + stride * i]);
  const counts = pick(stride - 1);
  const lines = paired ? rows.lines.filter((_, i) => i % 2 === 1) : rows.lines;
  checkCounts(counts, lines, warnings);
  if (stated !== null && stated !== counts.length) {
    warnings.add({ code: 'npoints-mismatch', stated, found: counts.length });
  }
  return { counts, x: paired ? pick(0) : null, lines };
}

function pointsOf(header: EmsaHeader, warnings: FileWarnings): number | null {
  const number = header.number('NPOINTS');
  if (number !== null && Number.isInteger(number.value) && number.value > 0) return number.value;
  warnings.add({ code: 'npoints-missing' });
  return null;
}

function isPaired(rows: Rows, header: EmsaHeader, stated: number | null, warnings: FileWarnings): boolean {
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
      warnings.add({ code: 'datatype-mismatch', readAs: 'Y' });
      return false;
    }
    throw new EmsaError({ code: 'data-ambiguous', why: 'no-pairs' }, rows.lines[0]);
  }
  const rowsAreChannels = uniform && columns !== rows.width && total !== stated;
  if (rowsAreChannels && rows.width === 2 && ascending) {
    warnings.add({ code: 'datatype-mismatch', readAs: 'XY' });
    return true;
  }
  if (rowsAreChannels && (stated === null || stated === rows.count)) {
    throw new EmsaError({ code: 'data-ambiguous', why: 'wide-rows', width: rows.width }, rows.lines[0]);
  }
  return false;
}

/** The last number of a text that stops inside the data may have lost digits. */
function dropCutOff(rows: Rows, paired: boolean, stated: number | null, warnings: FileWarnings): void {
  const expected = (stated ?? 0) * (paired ? 2 : 1);
  if (!rows.cutOff || rows.values.length >= expected) return;
  const dropped = paired && rows.values.length % 2 === 0 ? 2 : 1;
  rows.values.length -= dropped;
  rows.lines.length -= dropped;
  warnings.add({ code: 'cut-off' });
}

/**
 * Counts must be finite and not negative: a negative count is the trace of a background subtracted before, and then
 * the counting statistics that everything here rests on are gone.
 * @throws EmsaError 'counts-not-finite', 'counts-negative', 'counts-absurd', 'too-few-channels', 'too-many-channels'
 */
export function checkCounts(counts: Float64Array, lines: readonly number[], warnings: FileWarnings): void {
  if (counts.length < MIN_CHANNELS || counts.length > MAX_CHANNELS) {
    const code = counts.length < MIN_CHANNELS ? 'too-few-channels' : 'too-many-channels';
    throw new EmsaError({ code, channels: counts.length });
  }
  let whole = true;
  counts.forEach((value, channel) => {
    if (!(value >= 0 && value <= MAX_COUNTS)) throw badCount(value, channel, lines[channel]);
    whole &&= Number.isInteger(value);
  });
  if (!whole) warnings.add({ code: 'counts-not-integer' });
}

function badCount(value: number, channel: number, line: number): EmsaError {
  const code = !Number.isFinite(value) ? 'counts-not-finite' : value < 0 ? 'counts-negative' : 'counts-absurd';
  return new EmsaError({ code, channel, value }, line);
}

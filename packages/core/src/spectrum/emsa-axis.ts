import { axisText, EV_PER_UNIT, isPlausible, unitByWidth, unitIn, type AxisUnit } from './axis-rules.ts';
import { parseDecimal } from './decimal.ts';
import type { EnergyAxis, EnergyUnit } from './energy-axis.ts';
import { EmsaError } from './emsa-error.ts';
import type { EmsaHeader, HeaderNumber } from './emsa-header.ts';
import type { Channels } from './emsa-layout.ts';
import { isLinear, lineThrough, type Line } from './linear-axis.ts';
import type { FileWarnings } from './file-warning.ts';

/** The header and the energy column may part by this many channels, on average over the axis. */
const COLUMN_TOLERANCE = 0.75;

/**
 * Energy axis from OFFSET and XPERCHAN, checked against the energy column; else from that column; else the one given.
 * @throws EmsaError 'xperchan-not-positive', 'axis-not-linear', 'axis-not-energy', 'axis-in-channels', 'axis-absurd'
 */
export function axisOf(
  header: EmsaHeader,
  channels: Channels,
  given: EnergyAxis | undefined,
  warnings: FileWarnings,
): EnergyAxis {
  const width = header.number('XPERCHAN');
  if (given === undefined && width !== null && width.value <= 0) {
    throw new EmsaError({ code: 'xperchan-not-positive', text: width.text }, width.line);
  }
  const line = channels.x === null ? null : lineThrough(channels.x);
  const n = channels.counts.length;
  const unit = axisUnit(header, width, warnings);
  const own = unit === null ? null : (headerAxis(header, width, line, n, unit, warnings) ?? columnAxis(line, n, unit));
  if (own === null) {
    if (given !== undefined) return given;
    throw unusable(header, width, line);
  }
  if (given !== undefined && axisText(given) !== axisText(own)) {
    warnings.add({ code: 'axis-option-unused', axis: own });
  }
  return own;
}

/** The energy unit of the axis: stated, or told by the channel width; null when there is none. */
function axisUnit(header: EmsaHeader, width: HeaderNumber | null, warnings: FileWarnings): EnergyUnit | null {
  const said = saidUnit(header, width);
  if (said === 'channel' || said === 'other') return null;
  const byWidth = width === null ? null : unitByWidth(width.value);
  if (said === 'unsaid') {
    if (byWidth !== null) {
      warnings.add({ code: 'xunits-assumed', width: width!.text, unit: byWidth });
    }
    return byWidth;
  }
  const fits = width === null || isPlausible({ offsetEv: 0, gainEv: width.value * EV_PER_UNIT[said] }, 1);
  if (fits || byWidth === null || byWidth === said) return said;
  warnings.add({ code: 'xunits-conflict', width: width.text, stated: said, unit: byWidth });
  return byWidth;
}

function saidUnit(header: EmsaHeader, width: HeaderNumber | null): AxisUnit {
  const texts = [header.text('XUNITS'), header.unit('XUNITS'), width?.unit ?? '', header.text('XLABEL')];
  const first = unitIn(texts[0]);
  if (first !== 'unsaid') return first;
  const unit = texts.map(unitIn).find((said) => said === 'eV' || said === 'keV');
  return unit ?? 'unsaid';
}

function headerAxis(
  header: EmsaHeader,
  width: HeaderNumber | null,
  line: Line | null,
  n: number,
  unit: EnergyUnit,
  warnings: FileWarnings,
): EnergyAxis | null {
  if (width === null || width.value <= 0) return null;
  const gainEv = inEv(width.text, unit);
  const axis = { offsetEv: offsetEvOf(header, gainEv, line, unit, warnings), gainEv };
  if (!isPlausible(axis, n)) return null;
  checkColumn(axis, line, n, unit, warnings);
  return axis;
}

function offsetEvOf(
  header: EmsaHeader,
  gainEv: number,
  line: Line | null,
  unit: EnergyUnit,
  warnings: FileWarnings,
): number {
  const offset = header.number('OFFSET');
  const zero = header.number('CHOFFSET')?.value;
  if (offset === null) {
    if (line !== null) return inEv(String(line.offset), unit);
    const offsetEv = zero === undefined ? 0 : -zero * gainEv + 0;
    warnings.add({ code: 'offset-missing', fromChoffsetEv: zero === undefined ? null : offsetEv });
    return offsetEv;
  }
  const offsetEv = inEv(offset.text, unit);
  if (zero !== undefined && Math.abs(offsetEv + zero * gainEv) > gainEv) {
    warnings.add({ code: 'choffset-mismatch', choffset: zero, offsetEv });
  }
  return offsetEv;
}

/** Exact: the decimal point moves before the text becomes a number. */
function inEv(text: string, unit: EnergyUnit): number {
  return parseDecimal(text, unit === 'keV' ? 3 : 0)!;
}

function checkColumn(axis: EnergyAxis, line: Line | null, n: number, unit: EnergyUnit, warnings: FileWarnings): void {
  if (line === null) return;
  const factor = EV_PER_UNIT[unit];
  const first = line.offset * factor - axis.offsetEv;
  const last = first + (line.gain * factor - axis.gainEv) * (n - 1);
  const rounding = line.step > 1.5 * line.gain ? line.step * factor : 0;
  if (isLinear(line) && (Math.abs(first) + Math.abs(last)) / 2 <= COLUMN_TOLERANCE * axis.gainEv + rounding) return;
  warnings.add({ code: 'x-column-conflict', axis });
}

/** @throws EmsaError 'axis-not-linear' */
function columnAxis(line: Line | null, n: number, unit: EnergyUnit): EnergyAxis | null {
  if (line === null) return null;
  if (!isLinear(line)) {
    throw new EmsaError({ code: 'axis-not-linear', why: 'uneven' });
  }
  const axis = { offsetEv: inEv(String(line.offset), unit), gainEv: inEv(String(line.gain), unit) };
  return isPlausible(axis, n) ? axis : null;
}

function unusable(header: EmsaHeader, width: HeaderNumber | null, line: Line | null): EmsaError {
  const said = saidUnit(header, width);
  if (said === 'other') {
    return new EmsaError({ code: 'axis-not-energy', text: header.text('XUNITS') });
  }
  if (said === 'channel' || said === 'unsaid' || (width === null && line === null)) {
    return new EmsaError({ code: 'axis-in-channels', why: 'not-calibrated' });
  }
  const stated = { xperchan: width?.text ?? '', offset: header.text('OFFSET') };
  return new EmsaError({ code: 'axis-absurd', unit: said, stated }, width?.line ?? null);
}

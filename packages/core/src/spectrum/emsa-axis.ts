import {
  axisText,
  EV_PER_UNIT,
  isPlausible,
  unitByWidth,
  unitIn,
  type AxisUnit,
  type EnergyUnit,
} from './axis-rules.ts';
import { parseDecimal } from './decimal.ts';
import { EmsaError, quoted } from './emsa-error.ts';
import type { EmsaHeader, HeaderNumber } from './emsa-header.ts';
import type { Channels } from './emsa-layout.ts';
import { isLinear, lineThrough, type Line } from './linear-axis.ts';
import type { Notes } from './notes.ts';
import type { EnergyAxis } from './spectrum.ts';

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
  notes: Notes,
): EnergyAxis {
  const width = header.number('XPERCHAN');
  if (given === undefined && width !== null && width.value <= 0) {
    const message = `XPERCHAN is ${quoted(width.text)}; the width of a channel must be above zero. ${REMEDY}`;
    throw new EmsaError('xperchan-not-positive', width.line, message);
  }
  const line = channels.x === null ? null : lineThrough(channels.x);
  const n = channels.counts.length;
  const unit = axisUnit(header, width, notes);
  const own = unit === null ? null : (headerAxis(header, width, line, n, unit, notes) ?? columnAxis(line, n, unit));
  if (own === null) {
    if (given !== undefined) return given;
    throw unusable(header, width, line);
  }
  if (given !== undefined && axisText(given) !== axisText(own)) {
    notes.add(
      'axis-option-unused',
      `The file has an energy axis of its own (${axisText(own)}); the given one was not used.`,
    );
  }
  return own;
}

const REMEDY = 'Give the axis yourself as eV per channel and offset (--axis GAIN,OFFSET).';

/** The energy unit of the axis: stated, or told by the channel width; null when there is none. */
function axisUnit(header: EmsaHeader, width: HeaderNumber | null, notes: Notes): EnergyUnit | null {
  const said = saidUnit(header, width);
  if (said === 'channel' || said === 'other') return null;
  const byWidth = width === null ? null : unitByWidth(width.value);
  if (said === 'unsaid') {
    if (byWidth !== null) {
      notes.add('xunits-assumed', `XUNITS gives no unit; a channel of ${width!.text} can only be in ${byWidth}.`);
    }
    return byWidth;
  }
  const fits = width === null || isPlausible({ offsetEv: 0, gainEv: width.value * EV_PER_UNIT[said] }, 1);
  if (fits || byWidth === null || byWidth === said) return said;
  notes.add(
    'xunits-conflict',
    `XUNITS says ${said}, but a channel of ${width.text} can only be in ${byWidth}; read as such.`,
  );
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
  notes: Notes,
): EnergyAxis | null {
  if (width === null || width.value <= 0) return null;
  const gainEv = inEv(width.text, unit);
  const axis = { offsetEv: offsetEvOf(header, gainEv, line, unit, notes), gainEv };
  if (!isPlausible(axis, n)) return null;
  checkColumn(axis, line, n, unit, notes);
  return axis;
}

function offsetEvOf(header: EmsaHeader, gainEv: number, line: Line | null, unit: EnergyUnit, notes: Notes): number {
  const offset = header.number('OFFSET');
  const zero = header.number('CHOFFSET')?.value;
  if (offset === null) {
    if (line !== null) return inEv(String(line.offset), unit);
    const offsetEv = zero === undefined ? 0 : -zero * gainEv + 0;
    const from = zero === undefined ? 'the axis is taken to start at 0' : `${offsetEv} eV follows from CHOFFSET`;
    notes.add('offset-missing', `OFFSET is missing; ${from}.`);
    return offsetEv;
  }
  const offsetEv = inEv(offset.text, unit);
  if (zero !== undefined && Math.abs(offsetEv + zero * gainEv) > gainEv) {
    notes.add('choffset-mismatch', `CHOFFSET ${zero} contradicts an OFFSET of ${offsetEv} eV; OFFSET is used.`);
  }
  return offsetEv;
}

/** Exact: the decimal point moves before the text becomes a number. */
function inEv(text: string, unit: EnergyUnit): number {
  return parseDecimal(text, unit === 'keV' ? 3 : 0)!;
}

function checkColumn(axis: EnergyAxis, line: Line | null, n: number, unit: EnergyUnit, notes: Notes): void {
  if (line === null) return;
  const factor = EV_PER_UNIT[unit];
  const first = line.offset * factor - axis.offsetEv;
  const last = first + (line.gain * factor - axis.gainEv) * (n - 1);
  const rounding = line.step > 1.5 * line.gain ? line.step * factor : 0;
  if (isLinear(line) && (Math.abs(first) + Math.abs(last)) / 2 <= COLUMN_TOLERANCE * axis.gainEv + rounding) return;
  notes.add(
    'x-column-conflict',
    `The energy column does not follow OFFSET and XPERCHAN (${axisText(axis)}), which were used; check the axis.`,
  );
}

/** @throws EmsaError 'axis-not-linear' */
function columnAxis(line: Line | null, n: number, unit: EnergyUnit): EnergyAxis | null {
  if (line === null) return null;
  if (!isLinear(line)) {
    throw new EmsaError('axis-not-linear', null, `The energies of the first column are not evenly spaced. ${REMEDY}`);
  }
  const axis = { offsetEv: inEv(String(line.offset), unit), gainEv: inEv(String(line.gain), unit) };
  return isPlausible(axis, n) ? axis : null;
}

function unusable(header: EmsaHeader, width: HeaderNumber | null, line: Line | null): EmsaError {
  const said = saidUnit(header, width);
  if (said === 'other') {
    const what = `XUNITS is ${quoted(header.text('XUNITS'))}: not an energy, so not an X-ray spectrum over energy.`;
    return new EmsaError('axis-not-energy', null, `${what} ${REMEDY}`);
  }
  if (said === 'channel' || said === 'unsaid' || (width === null && line === null)) {
    return new EmsaError('axis-in-channels', null, `The file has no energy calibration, only channels. ${REMEDY}`);
  }
  const what = `XPERCHAN ${quoted(width?.text ?? '')} and OFFSET ${quoted(header.text('OFFSET'))} in ${said}`;
  return new EmsaError(
    'axis-absurd',
    width?.line ?? null,
    `${what} give no axis an X-ray spectrum can have. ${REMEDY}`,
  );
}

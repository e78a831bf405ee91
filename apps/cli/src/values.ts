import {
  elementName,
  type EnergyAxis,
  MAX_Z,
  MOUNT_NAMES,
  ObservationError,
  type Observations,
  observationsFrom,
  type PrepareOptions,
  symbolOf,
  trimmed,
  zOf,
} from '@limner/core';
import { UsageError } from './io.ts';

const NUMBER = /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i;
const CONTENT = /^([^%\s]+)\s*(%)?$/;
const ENERGY = /^([-+]?[\d.]+(?:e[-+]?\d+)?)\s*(kev|ev)?$/i;
/** A microscope shows its beam as a voltage. */
const VOLTAGE = /\s*k\s*V$/i;
/** Beam energies that an electron microscope has, keV. */
const BEAM_KEV = { least: 0.5, most: 300 };
/** Above every line known here. */
const HIGHEST_LINE_EV = 150_000;
/** A channel is between 0.1 eV and 1 keV wide, the first within 100 keV of zero: beyond is a slip, such as keV for eV. */
const AXIS_LIMITS = { leastGainEv: 0.1, mostGainEv: 1000, mostOffsetEv: 100_000 };

/** An option's value turned into what it stands for. All throw UsageError with the option's name. */
export function beamValue(option: string, text: string): number {
  const [value, unit] = energyParts(option, text.trim().replace(VOLTAGE, 'keV'));
  const kev = unit === 'ev' ? value / 1000 : value;
  if (!(kev >= BEAM_KEV.least && kev <= BEAM_KEV.most)) {
    throw new UsageError(
      `${option} ${text}: a beam energy lies between ${BEAM_KEV.least} and ${BEAM_KEV.most} keV; write it like 20 (keV)`,
    );
  }
  return kev;
}

/** An energy in eV; a number without a unit is in `bare`. */
export function energyValue(option: string, text: string, bare: 'keV' | 'eV'): number {
  const [value, unit] = energyParts(option, text);
  const energyEv = (unit ?? bare.toLowerCase()) === 'kev' ? value * 1000 : value;
  if (!(energyEv > 0 && energyEv <= HIGHEST_LINE_EV)) {
    throw new UsageError(
      `${option} ${text}: that is ${energyEv / 1000} keV, but lines lie between 0 and ${HIGHEST_LINE_EV / 1000} keV; a number without a unit is in ${bare}`,
    );
  }
  return energyEv;
}

function energyParts(option: string, text: string): [value: number, unit: 'kev' | 'ev' | undefined] {
  const [, digits = '', unit] = ENERGY.exec(text.trim()) ?? [];
  if (!NUMBER.test(digits)) {
    throw new UsageError(`${option} ${text}: not an energy; write it like 2.35keV or 2350eV`);
  }
  return [Number(digits), unit?.toLowerCase() as 'kev' | 'ev' | undefined];
}

/** 'GAIN,OFFSET' in eV. */
export function axisValue(option: string, text: string): EnergyAxis {
  const parts = text.split(',').map((part) => part.trim());
  if (parts.length !== 2 || !parts.every((part) => NUMBER.test(part))) {
    throw new UsageError(`${option} ${text}: give eV per channel and the energy of channel 0 in eV, like 10,-200`);
  }
  const [gainEv, offsetEv] = parts.map(Number) as [number, number];
  const { leastGainEv, mostGainEv, mostOffsetEv } = AXIS_LIMITS;
  if (!(gainEv >= leastGainEv && gainEv <= mostGainEv && Math.abs(offsetEv) <= mostOffsetEv)) {
    throw new UsageError(
      `${option} ${text}: eV per channel must lie between ${leastGainEv} and ${mostGainEv}, and channel 0 within ${mostOffsetEv} eV of zero`,
    );
  }
  return { gainEv, offsetEv };
}

/** A plain number within limits. @param unit as it stands in messages, like 'µm' */
export function numberValue(option: string, text: string, unit: string, least: number, most: number): number {
  const value = NUMBER.test(text.trim()) ? Number(text) : NaN;
  if (!(value >= least && value <= most)) {
    throw new UsageError(`${option} ${text}: give a number from ${least} to ${most}${unit === '' ? '' : ` (${unit})`}`);
  }
  return value;
}

/** The same without a fraction. */
export function wholeValue(option: string, text: string, unit: string, least: number, most: number): number {
  const value = numberValue(option, text, unit, least, most);
  if (!Number.isSafeInteger(value)) throw new UsageError(`${option} ${text}: give a whole number`);
  return value;
}

/** A year, BCE negative. */
export function yearValue(option: string, text: string): number {
  return wholeValue(option, text, '', -5000, 2200);
}

/** One of a few names. */
export function nameValue<Name extends string>(option: string, text: string, names: readonly Name[]): Name {
  const found = names.find((name) => name === text);
  if (found === undefined) throw new UsageError(`${option} ${text}: use one of ${names.join(', ')}`);
  return found;
}

/** Element symbols, separated by commas; each once, in the order given. */
export function symbolsValue(option: string, text: string): string[] {
  return listValue(option, text).map((symbol) => symbolValue(option, symbol));
}

/** Elements said to be there, separated by commas, some with their content: 'Pb', 'Pb=10%' or 'Pb=0.1'; each once, in the order given. */
export function claimsValue(option: string, text: string): NonNullable<PrepareOptions['claim']> {
  const claimed = new Set<string>();
  return listValue(option, text).map((entry) => {
    const [name = '', ...amounts] = entry.split('=').map((part) => part.trim());
    const symbol = symbolValue(option, name);
    if (claimed.has(symbol))
      throw new UsageError(`${option} ${text}: ${symbol} is claimed twice; give each element once`);
    claimed.add(symbol);
    return amounts.length === 0 ? symbol : { symbol, massFraction: contentValue(option, entry, amounts.join('=')) };
  });
}

/** A content by mass, '10%' or '0.1', as a fraction. */
function contentValue(option: string, entry: string, text: string): number {
  const [, digits = '', unit] = CONTENT.exec(text) ?? [];
  if (!NUMBER.test(digits))
    throw new UsageError(`${option} ${entry}: '${text}' is not a content by mass; write it like Pb=10% or Pb=0.1`);
  const massFraction = unit === '%' ? Number(digits) / 100 : Number(digits);
  if (!(massFraction > 0 && massFraction <= 1)) {
    throw new UsageError(
      `${option} ${entry}: that is ${trimmed(100 * massFraction, 6)} %, but a content lies above 0 and up to 100 %; write 10 % like 10% or 0.1`,
    );
  }
  return massFraction;
}

/** Symbols by the element's English name. */
const BY_NAME = new Map(Array.from({ length: MAX_Z }, (_, i) => [elementName(i + 1), symbolOf(i + 1)]));

/** A symbol, or the element's name: 'Pb', 'lead'. */
export function symbolValue(where: string, text: string): string {
  if (zOf(text) !== undefined) return text;
  const byName = BY_NAME.get(text.toLowerCase());
  if (byName !== undefined) return byName;
  const cased = text.charAt(0).toUpperCase() + text.slice(1).toLowerCase();
  const hint =
    zOf(cased) !== undefined
      ? `; did you mean ${cased}?`
      : `; symbols are written like Pb, Bi, O (${symbolOf(1)} to ${symbolOf(MAX_Z)})`;
  throw new UsageError(`${where}: '${text}' is not an element symbol${hint}`);
}

/** Parts by mass of elements, separated by commas: 'Pb=10,S=1'. */
export function amountsValue(option: string, text: string, elements: readonly string[]): Map<string, number> {
  const amounts = listValue(option, text).map((entry): [string, number] => {
    const [name = '', ...parts] = entry.split('=').map((part) => part.trim());
    const symbol = symbolValue(option, name);
    if (!elements.includes(symbol))
      throw new UsageError(`${option} ${text}: ${symbol} is not one of the elements asked about`);
    return [symbol, numberValue(`${option}: the amount of ${symbol}`, parts.join('='), 'parts by mass', 1e-6, 1e6)];
  });
  return new Map(amounts);
}

/** What the mounting may add, separated by commas. */
export function mountValue(option: string, text: string): string[] {
  return listValue(option, text).map((name) => {
    if (MOUNT_NAMES.includes(name)) return name;
    throw new UsageError(`${option}: '${name}' is not a known mounting; use one or more of ${MOUNT_NAMES.join(', ')}`);
  });
}

/** What else was seen, like 'colour=blue,opacity=transparent'; null where nobody looked. */
export function seenValue(option: string, text: string): Observations | null {
  try {
    return observationsFrom(text);
  } catch (error) {
    if (error instanceof ObservationError) throw new UsageError(`${option}: ${error.message}`, { cause: error });
    throw error;
  }
}

function listValue(option: string, text: string): string[] {
  const items = text.split(',').map((item) => item.trim());
  if (items.some((item) => item === '')) {
    throw new UsageError(`${option} ${text}: an entry is empty; separate entries with single commas`);
  }
  return [...new Set(items)];
}

/** A TCP port; 0 lets the system choose. */
export function portValue(text: string): number {
  if (!/^\d{1,5}$/.test(text) || Number(text) > 65_535) {
    throw new UsageError(`PORT=${text}: a port is a whole number from 0 to 65535`);
  }
  return Number(text);
}

/** 'K/N', the K-th of N shares. */
export function partValue(option: string, text: string): { readonly k: number; readonly of: number } {
  const [, k, of] = /^(\d{1,6})\/(\d{1,6})$/.exec(text.trim())?.map(Number) ?? [];
  if (k === undefined || of === undefined || k < 1 || k > of)
    throw new UsageError(`${option} ${text}: give the part and the number of parts, like 1/8`);
  return { k, of };
}

/** The day that SOURCE_DATE_EPOCH (seconds since 1970, the convention of reproducible builds) asks for, YYYY-MM-DD. */
export function dayValue(env: Readonly<Record<string, string | undefined>>): string | undefined {
  const seconds = env['SOURCE_DATE_EPOCH'];
  if (seconds === undefined || seconds === '') return undefined;
  if (!/^\d{1,11}$/.test(seconds)) throw new UsageError(`SOURCE_DATE_EPOCH=${seconds}: give whole seconds since 1970`);
  return new Date(1000 * Number(seconds)).toISOString().slice(0, 10);
}

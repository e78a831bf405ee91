import { isCertainDecimalComma, parseDecimal } from './decimal.ts';
import { EmsaError } from './emsa-error.ts';
import { KEYWORDS, UNIT_FACTORS } from './keywords.ts';
import { MAX_HEADER_LINE_LENGTH, MAX_HEADER_LINES } from './limits.ts';
import type { FileWarnings } from './file-warning.ts';
import type { HeaderEntry } from './spectrum.ts';

/** A number of the header: its text with a decimal point, so that it can be scaled exactly, and where it stands. */
export interface HeaderNumber {
  readonly text: string;
  readonly value: number;
  readonly unit: string;
  readonly line: number | null;
}

/** Keyword, unit and value of one line that begins with '#'; a missing colon is allowed. */
export function parseKeywordLine(line: string): HeaderEntry {
  const text = line.trim();
  const colon = text.indexOf(':');
  if (colon < 0) {
    const end = text.search(/\s/);
    return end < 0
      ? { ...splitKeyword(text), value: '' }
      : { ...splitKeyword(text.slice(0, end)), value: text.slice(end).trim() };
  }
  return { ...splitKeyword(text.slice(0, colon).trim()), value: text.slice(colon + 1).trim() };
}

/** '#BEAMKV   -kV' -> BEAMKV, kV; '#XPOSITION mm' -> XPOSITION, mm. A private keyword has a unit only after ' -'. */
function splitKeyword(left: string): { key: string; unit: string } {
  const name = left.replace(/^#+/, '').trim();
  if (left.startsWith('##')) {
    const dash = name.lastIndexOf('-');
    const unit = name.slice(dash + 1);
    const hasUnit = dash > 0 && /\s/.test(name[dash - 1]) && unit !== '' && !/\s/.test(unit);
    return hasUnit
      ? { key: `##${name.slice(0, dash).trim().toUpperCase()}`, unit }
      : { key: `##${name.toUpperCase()}`, unit: '' };
  }
  const word = /^\w+/.exec(name)?.[0] ?? name;
  return { key: word.toUpperCase(), unit: name.slice(word.length).trim().replace(/^-/, '').trim() };
}

/** The header of one file, as read; the first of several equal keywords counts, all are kept. */
export class EmsaHeader {
  readonly entries: HeaderEntry[] = [];
  readonly #first = new Map<string, { entry: HeaderEntry; line: number | null }>();
  readonly #warnings: FileWarnings;

  constructor(warnings: FileWarnings) {
    this.#warnings = warnings;
  }

  /** @throws EmsaError 'header-too-long' */
  add(entry: HeaderEntry, line: number | null): void {
    const length = entry.key.length + entry.unit.length + entry.value.length;
    if (this.entries.length >= MAX_HEADER_LINES || length > MAX_HEADER_LINE_LENGTH) {
      const what = length > MAX_HEADER_LINE_LENGTH ? 'line' : 'header';
      throw new EmsaError({ code: 'header-too-long', what }, line);
    }
    this.entries.push(entry);
    const earlier = this.#first.get(entry.key);
    if (earlier === undefined) this.#first.set(entry.key, { entry, line });
    else if (earlier.entry.value !== entry.value && entry.key !== 'COMMENT' && KEYWORDS.has(entry.key)) {
      this.#warnings.add({ code: 'keyword-repeated', line, keyword: entry.key });
    }
    if (!entry.key.startsWith('##') && !KEYWORDS.has(entry.key)) {
      this.#warnings.add({ code: 'keyword-unknown', keyword: entry.key });
    }
  }

  has(key: string): boolean {
    return this.#first.has(key);
  }

  text(key: string): string {
    return this.#first.get(key)?.entry.value ?? '';
  }

  unit(key: string): string {
    return this.#first.get(key)?.entry.unit ?? '';
  }

  /** The number of a keyword, not converted; null when absent, empty or (with a warning) unreadable. */
  number(key: string): HeaderNumber | null {
    const found = this.#first.get(key);
    if (found === undefined || found.entry.value === '') return null;
    const blank = found.entry.value.search(/\s/);
    const after = blank < 0 ? '' : found.entry.value.slice(blank).trim();
    let text = (blank < 0 ? found.entry.value : found.entry.value.slice(0, blank)).replace(/[,;]$/, '');
    if (isCertainDecimalComma(text)) {
      this.#warnings.add({ code: 'decimal-comma-header', keyword: key, found: text });
      text = text.replace(',', '.');
    }
    const value = /^\d/.test(after) ? undefined : parseDecimal(text);
    if (value === undefined || !Number.isFinite(value)) {
      this.#warnings.add({ code: `${key.toLowerCase()}-unreadable`, keyword: key, found: found.entry.value });
      return null;
    }
    return { text, value, unit: found.entry.unit || after, line: found.line };
  }

  /** The number of a keyword in the unit of the standard. */
  quantity(key: string): number | null {
    const number = this.number(key);
    const kind = KEYWORDS.get(key);
    if (number === null || kind === undefined || kind === 'text') return number?.value ?? null;
    if (number.unit === '' || kind === 'plain') return number.value;
    const factor = UNIT_FACTORS[kind][number.unit.toLowerCase()];
    if (factor === undefined) {
      this.#warnings.add({ code: 'unit-unknown', keyword: key, found: number.unit });
    }
    return number.value * (factor ?? 1);
  }
}

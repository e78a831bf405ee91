import { isCertainDecimalComma, isNotFinite, parseDecimal } from './decimal.ts';
import { EmsaError, quoted } from './emsa-error.ts';
import type { Notes } from './notes.ts';

const COMMA = 44;
const SEMICOLON = 59;

/**
 * Reads rows of numbers parted by commas, semicolons, tabs or blanks; empty fields may end a row, not stand inside it.
 * Decimal commas are read where semicolons or tabs part the fields and no other meaning is possible.
 */
export class RowParser {
  readonly #notes: Notes;
  #decimal: 'unknown' | 'point' | 'comma' = 'unknown';

  constructor(notes: Notes) {
    this.#notes = notes;
  }

  /**
   * The numbers of one row; words for "not finite" give NaN.
   * @throws EmsaError 'data-unreadable', 'empty-field', 'decimal-comma'
   */
  parse(row: string, line: number, push: (value: number) => void): void {
    if (this.#decimal !== 'point') this.#settleDecimal(row, line);
    const comma = this.#decimal === 'comma';
    let afterSeparator = true;
    let emptyField = false;
    let start = -1;
    for (let i = 0; i <= row.length; i++) {
      const code = i < row.length ? row.charCodeAt(i) : 32;
      const separates = code === SEMICOLON || (code === COMMA && !comma);
      if (!separates && !isBlank(code)) {
        if (start < 0) start = i;
        continue;
      }
      if (start >= 0) {
        if (emptyField) throw emptyFieldError(line);
        push(this.#number(row.slice(start, i), line));
        start = -1;
        afterSeparator = false;
      }
      if (separates) {
        emptyField ||= afterSeparator;
        afterSeparator = true;
      }
    }
  }

  #number(token: string, line: number): number {
    const comma = this.#decimal === 'comma';
    const text = comma && !token.includes('.') ? token.replace(',', '.') : token;
    if (!comma || text !== token || !token.includes('.')) {
      const value = parseDecimal(text);
      if (value !== undefined) return value;
      if (isNotFinite(text)) return NaN;
    }
    throw new EmsaError(
      'data-unreadable',
      line,
      `${quoted(token)} is not a number. Correct the line or export the spectrum again.`,
    );
  }

  #settleDecimal(row: string, line: number): void {
    if (row.includes('.')) {
      if (this.#decimal === 'unknown') this.#decimal = 'point';
      return;
    }
    if (this.#decimal === 'comma' || !/[;\t]/.test(row) || !/\d,\d/.test(row)) return;
    const withComma = row.split(/[;\s]+/).filter((token) => /\d,\d/.test(token));
    if (withComma.some((token) => token.indexOf(',') !== token.lastIndexOf(','))) return;
    if (!withComma.some(isCertainDecimalComma)) {
      throw new EmsaError(
        'decimal-comma',
        line,
        `In ${quoted(withComma[0])} the comma may be a decimal comma or mark thousands. Export with decimal points.`,
      );
    }
    this.#decimal = 'comma';
    this.#notes.add('decimal-comma', `Decimal commas were read as decimal points (from line ${line}).`);
  }
}

function isBlank(code: number): boolean {
  return code === 32 || code === 9 || code === 160 || code === 11 || code === 12;
}

function emptyFieldError(line: number): EmsaError {
  return new EmsaError('empty-field', line, 'A field is empty in front of a number. Fill it in or export again.');
}

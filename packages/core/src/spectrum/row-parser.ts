import { isCertainDecimalComma, isNotFinite, parseDecimal } from './decimal.ts';
import { EmsaError } from './emsa-error.ts';
import type { FileWarnings } from './file-warning.ts';

const COMMA = 44;
const SEMICOLON = 59;

/**
 * Reads rows of numbers separated by commas, semicolons, tabs or spaces; empty fields may end a row, not stand inside it.
 * Decimal commas are read where semicolons or tabs part the fields and no other meaning is possible.
 */
export class RowParser {
  readonly #warnings: FileWarnings;
  #decimal: 'unknown' | 'point' | 'comma' = 'unknown';

  constructor(warnings: FileWarnings) {
    this.#warnings = warnings;
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
        if (emptyField) throw new EmsaError({ code: 'empty-field' }, line);
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
    throw new EmsaError({ code: 'data-unreadable', text: token }, line);
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
      throw new EmsaError({ code: 'decimal-comma', text: withComma[0] }, line);
    }
    this.#decimal = 'comma';
    this.#warnings.add({ code: 'decimal-comma', line });
  }
}

function isBlank(code: number): boolean {
  return code === 32 || code === 9 || code === 160 || code === 11 || code === 12;
}

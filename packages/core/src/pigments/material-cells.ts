import { mixture } from '../atomic/composition.ts';
import { zOf } from '../atomic/elements.ts';
import type { Counterargument, Material } from './knowledge.ts';

/** What stands wrong in a cell; the message says what and how else. */
export class CellError extends Error {
  override readonly name = 'CellError';
}

/** Percentages by mass must add up to 100 within this. */
const SUM_WITHIN = 0.5;

/** 'PbO 70 + SiO2 30' (per cent by mass) or one formula: parts whose mass fractions add up to 1. @throws CellError */
export function compositionIn(cell: string): Material['composition'] {
  const parts = cell.split(' + ').map((part) => part.trim().split(/\s+/));
  const composition = parts.length === 1 && parts[0].length === 1 ? [{ formula: cell, massFraction: 1 }] : mixed(parts);
  try {
    mixture(composition);
  } catch (error) {
    throw new CellError(error instanceof Error ? error.message : String(error));
  }
  return composition;
}

function mixed(parts: readonly string[][]): Material['composition'] {
  const read = parts.map((part) => {
    const percent = Number(part[1]);
    if (part.length !== 2 || !(percent > 0))
      throw new CellError(`'${part.join(' ')}' is not a formula with a percentage by mass; write it like SiO2 70`);
    return { formula: part[0], percent };
  });
  const total = read.reduce((sum, { percent }) => sum + percent, 0);
  if (Math.abs(total - 100) > SUM_WITHIN)
    throw new CellError(`the percentages add up to ${Number(total.toFixed(2))}, not to 100; give all parts, by mass`);
  return read.map(({ formula, percent }) => ({ formula, massFraction: percent / total }));
}

/** 'Pb Sn': symbols separated by spaces. @throws CellError */
export function symbolsIn(cell: string): string[] {
  const symbols = cell === '' ? [] : cell.split(/\s+/);
  for (const symbol of symbols) known(symbol);
  const twice = symbols.find((symbol, at) => symbols.indexOf(symbol) < at);
  if (twice !== undefined) throw new CellError(`${twice} is there twice; keep one`);
  return symbols;
}

/** 'Cl/Cu>0.25 reads as a basic chloride; ...': atomic ratios above which the material is unlikely. @throws CellError */
export function againstIn(cell: string): Counterargument[] {
  return listIn(cell).map((part) => {
    const [, element, per, above, reason] = /^([A-Z][a-z]?)\/([A-Z][a-z]?)>(\d+(?:\.\d+)?)\s+(.+)$/.exec(part) ?? [];
    if (reason === undefined)
      throw new CellError(`'${part}' is not a ratio with a reason; write it like Cl/Cu>0.25 reads as a chloride`);
    return { element: known(element), per: known(per), above: Number(above), reason };
  });
}

function known(symbol: string): string {
  if (zOf(symbol) !== undefined) return symbol;
  throw new CellError(`'${symbol}' is not an element symbol; write symbols like Pb Sn, with spaces between`);
}

/** Parts with semicolons between. */
export function listIn(cell: string): string[] {
  return cell
    .split(';')
    .map((part) => part.trim())
    .filter((part) => part !== '');
}

/** A whole year, BCE negative; null where the cell is empty. @throws CellError */
export function yearIn(cell: string): number | null {
  if (cell === '') return null;
  if (/^-?\d{1,6}$/.test(cell)) return Number(cell);
  throw new CellError(`'${cell}' is not a year; write a whole number like 1704, or -300 for 300 BCE`);
}

/** Relative standard deviation, 0 to 1. @throws CellError */
export function spreadIn(cell: string): number {
  if (/^(0|1|0?\.\d+|1\.0+)$/.test(cell)) return Number(cell);
  throw new CellError(`'${cell}' is not a spread; write a number from 0 (a compound) to 1, like 0.2`);
}

/** One of a few words. @throws CellError */
export function oneOf<Word extends string>(words: readonly Word[]): (cell: string) => Word {
  return (cell) => {
    if ((words as readonly string[]).includes(cell)) return cell as Word;
    throw new CellError(`'${cell}' is not one of ${words.join(', ')}`);
  };
}

/** Lower-case letters, digits and single hyphens, a letter first. @throws CellError */
export function idIn(cell: string): string {
  if (/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/.test(cell)) return cell;
  throw new CellError(`'${cell}' is not an id; write lower-case letters, digits and hyphens, like lead-white`);
}

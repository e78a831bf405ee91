import { numbers, words } from './columns.ts';
import tables from './tables.json' with { type: 'json' };

const SYMBOLS = words(tables.elements.symbol);
const NAMES = words(tables.elements.name);
const WEIGHTS = numbers(tables.elements.weight);
const Z_OF = new Map(SYMBOLS.map((symbol, index) => [symbol, index + 1]));

/** Largest atomic number with a weight and attenuation coefficients. */
export const MAX_Z = SYMBOLS.length;

/** Chemical symbol. @throws RangeError outside 1..MAX_Z */
export function symbolOf(z: number): string {
  return entry(SYMBOLS, z);
}

/** Atomic number of a symbol, case-sensitive ('Pb'); undefined if there is none. */
export function zOf(symbol: string): number | undefined {
  return Z_OF.get(symbol);
}

/** A text that is not an element symbol. */
export class UnknownElementError extends RangeError {
  override readonly name = 'UnknownElementError';
  constructor(symbol: string) {
    super(`'${symbol}' is not an element symbol; write it like Pb, Bi or O`);
  }
}

/** Atomic number of a symbol that must be one. @throws UnknownElementError */
export function atomicNumber(symbol: string): number {
  const z = zOf(symbol);
  if (z === undefined) throw new UnknownElementError(symbol);
  return z;
}

/** English name, lower case. @throws RangeError outside 1..MAX_Z */
export function elementName(z: number): string {
  return entry(NAMES, z);
}

/** Standard atomic weight, g/mol (IUPAC 2021, abridged; the mass number where IUPAC gives none). @throws RangeError outside 1..MAX_Z */
export function atomicWeight(z: number): number {
  return entry(WEIGHTS, z);
}

function entry<T>(list: ArrayLike<T>, z: number): T {
  const value = list[z - 1];
  if (value === undefined) throw new RangeError(`No element with atomic number ${z}: 1 to ${MAX_Z} are known.`);
  return value;
}

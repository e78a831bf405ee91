import { numbers, words } from './columns.ts';
import { MAX_Z, symbolOf } from './elements.ts';
import { type SubshellIndex, SUBSHELLS } from './shells.ts';
import tables from './tables.json' with { type: 'json' };

/** One characteristic line. */
export interface Line {
  /** Row of {@link LINE_TABLE}. */
  readonly index: number;
  readonly z: number;
  readonly symbol: string;
  /** Initial and final vacancy, e.g. 'K-L3'; 'L3-O4,5' where the two are not told apart. */
  readonly iupac: string;
  /** e.g. 'Kα1'; null for lines Siegbahn did not name. */
  readonly siegbahn: string | null;
  readonly energyEv: number;
  /** Stated or typical uncertainty (one standard deviation), eV. */
  readonly uncertaintyEv: number;
  /** Fraction of the radiative decays of its subshell; the lines of a subshell sum to 1. */
  readonly relative: number;
  readonly subshell: SubshellIndex;
  /** Natural FWHM: the sum of both level widths, eV. */
  readonly widthEv: number;
  /** Where the energy comes from. */
  readonly source: string;
}

/** All lines as columns, ordered by z, then subshell, then energy: the lines of z are first[z] .. first[z + 1] - 1. */
export interface LineTable {
  readonly count: number;
  readonly z: Uint8Array;
  readonly subshell: Uint8Array;
  readonly energyEv: Float64Array;
  readonly relative: Float64Array;
  readonly widthEv: Float64Array;
  readonly first: Uint16Array;
}

const IUPAC = words(tables.lines.iupac);
const SIEGBAHN = words(tables.lines.siegbahn);
const UNCERTAINTY = numbers(tables.lines.uncertaintyEv);
const SOURCE = numbers(tables.lines.source);

/** All lines of data/atomic/lines.csv as columns of equal length, by element and subshell. */
export const LINE_TABLE: LineTable = buildTable();

const BY_ENERGY = Uint16Array.from(LINE_TABLE.energyEv.keys()).sort(
  (a, b) => LINE_TABLE.energyEv[a] - LINE_TABLE.energyEv[b],
);

/** The line in row `index` of {@link LINE_TABLE}. @throws RangeError if there is no such row */
export function lineAt(index: number): Line {
  const { z, energyEv, relative, subshell, widthEv } = LINE_TABLE;
  const iupac = IUPAC[index];
  if (iupac === undefined) throw new RangeError(`No line ${index}: rows go from 0 to ${LINE_TABLE.count - 1}.`);
  const siegbahn = SIEGBAHN[index];
  return {
    index,
    z: z[index],
    symbol: symbolOf(z[index]),
    iupac,
    siegbahn: siegbahn === '-' ? null : siegbahn,
    energyEv: energyEv[index],
    uncertaintyEv: UNCERTAINTY[index],
    relative: relative[index],
    subshell: subshell[index],
    widthEv: widthEv[index],
    source: tables.lines.sources[SOURCE[index]],
  };
}

/** The lines of an element in the order of the line table; none for H, He and beyond the last element with lines. @param z atomic number */
export function linesOf(z: number): Line[] {
  const lines: Line[] = [];
  for (let i = LINE_TABLE.first[z] ?? 0; i < (LINE_TABLE.first[z + 1] ?? 0); i++) lines.push(lineAt(i));
  return lines;
}

/** The lines of all elements with |energy - energyEv| <= withinEv, both in eV, nearest first (then by atomic number). */
export function linesNear(energyEv: number, withinEv: number): Line[] {
  return rowsNear(energyEv, withinEv).map(({ row }) => lineAt(row));
}

/** A line by its row of {@link LINE_TABLE}, and how far it lies from an energy, eV. */
interface NearRow {
  readonly row: number;
  readonly distance: number;
}

/** The same as rows of {@link LINE_TABLE}. */
export function rowsNear(energyEv: number, withinEv: number): NearRow[] {
  const energies = LINE_TABLE.energyEv;
  const found: NearRow[] = [];
  for (let i = lowerBound(energyEv - withinEv); i < BY_ENERGY.length; i++) {
    const row = BY_ENERGY[i];
    if (energies[row] > energyEv + withinEv) break;
    found.push({ row, distance: Math.abs(energies[row] - energyEv) });
  }
  return found.sort(nearestFirst);
}

const nearestFirst = (a: NearRow, b: NearRow): number => a.distance - b.distance || a.row - b.row;

/** First place in BY_ENERGY with an energy >= `from`. */
function lowerBound(from: number): number {
  let [low, high] = [0, BY_ENERGY.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (LINE_TABLE.energyEv[BY_ENERGY[middle]] < from) low = middle + 1;
    else high = middle;
  }
  return low;
}

function buildTable(): LineTable {
  const z = Uint8Array.from(numbers(tables.lines.z));
  const subshell = Uint8Array.from(IUPAC, (name) => (SUBSHELLS as readonly string[]).indexOf(name.split('-')[0]));
  const first = new Uint16Array(MAX_Z + 2);
  for (const element of z) first[element + 1]++;
  for (let i = 1; i < first.length; i++) first[i] += first[i - 1];
  return {
    count: z.length,
    z,
    subshell,
    energyEv: numbers(tables.lines.energyEv),
    relative: numbers(tables.lines.relative),
    widthEv: numbers(tables.lines.widthEv),
    first,
  };
}

import { numbers } from './columns.ts';
import { MAX_Z } from './elements.ts';
import tables from './tables.json' with { type: 'json' };

export const SUBSHELLS = ['K', 'L1', 'L2', 'L3', 'M1', 'M2', 'M3', 'M4', 'M5'] as const;

/** Place of a subshell in {@link SUBSHELLS}, 0 (K) to 8 (M5). */
export type SubshellIndex = number;

const SHELLS = SUBSHELLS.length;
const EDGE = grid(tables.subshells.edgeEv, NaN);
const YIELD = grid(tables.subshells.yield, 0);
const WIDTH = grid(tables.subshells.widthEv, 0);
const COSTER_KRONIG = transitions(tables.costerKronig, tables.costerKronig.probability);
const CASCADE = transitions(tables.cascade, tables.cascade.vacancies);

/** Absorption edge (binding energy), eV; NaN where the element has no such subshell. X-Ray Data Booklet 1-1, else xraylib. */
export function edgeEv(z: number, s: SubshellIndex): number {
  return EDGE[z * SHELLS + s] ?? NaN;
}

/** Fluorescence yield: radiative decays per vacancy of the subshell itself, 0 where unknown. */
export function fluorescenceYield(z: number, s: SubshellIndex): number {
  return YIELD[z * SHELLS + s] ?? 0;
}

/** Coster-Kronig probability: vacancies handed from one subshell to another of the same shell, per vacancy; 0 where none. */
export function costerKronig(z: number, from: SubshellIndex, to: SubshellIndex): number {
  return COSTER_KRONIG[(z * SHELLS + from) * SHELLS + to] ?? 0;
}

/**
 * Vacancies left in a subshell of an outer shell (K to L and M, L to M) per vacancy that decays in an inner one, by
 * emission of lines and of Auger electrons; 0 where none.
 */
export function vacanciesLeft(z: number, from: SubshellIndex, to: SubshellIndex): number {
  return CASCADE[(z * SHELLS + from) * SHELLS + to] ?? 0;
}

/** Natural width of the level, eV FWHM; 0 where unknown (under 0.5 eV in the light elements). */
export function levelWidthEv(z: number, s: SubshellIndex): number {
  return WIDTH[z * SHELLS + s] ?? 0;
}

/** A column of data/atomic/subshells.csv as [z][subshell], flat. */
function grid(column: string, absent: number): Float64Array {
  const [z, s, values] = [numbers(tables.subshells.z), numbers(tables.subshells.subshell), numbers(column)];
  const table = new Float64Array((MAX_Z + 1) * SHELLS).fill(absent);
  values.forEach((value, i) => (table[z[i] * SHELLS + s[i]] = value));
  return table;
}

/** A column of values for transitions as [z][from][to], flat. */
function transitions({ z, from, to }: { z: string; from: string; to: string }, column: string): Float64Array {
  const [zs, froms, tos] = [numbers(z), numbers(from), numbers(to)];
  const table = new Float64Array((MAX_Z + 1) * SHELLS * SHELLS);
  numbers(column).forEach((p, i) => (table[(zs[i] * SHELLS + froms[i]) * SHELLS + tos[i]] = p));
  return table;
}

import { symbolOf, zOf } from '../atomic/elements.ts';

/**
 * Prior odds, as the chi-square an element must be worth (−2 ln odds). Few classes, by how often an element occurs in
 * solids that people put under the beam; nothing is favoured because it is a pigment. Stated here and in the record.
 */
const PENALTY_CLASSES: readonly { readonly penalty: number; readonly symbols: string }[] = [
  { penalty: 4, symbols: 'C O Si' },
  { penalty: 10, symbols: 'Na Mg Al P S Cl K Ca Ti Cr Mn Fe Co Ni Cu Zn As Ag Cd Sn Sb Ba Au Hg Pb Bi Sr' },
  { penalty: 12, symbols: 'B N F V Se Zr Mo I W Pt Ga Ge' },
  { penalty: 15, symbols: 'Y Nb Te La Ce Rb Pd Rh In Ta Pr Nd Th U Tl Cs' },
  { penalty: 22, symbols: 'Br' },
];
/** All other elements. */
const RARE_PENALTY = 18;

/** Added for an element that the spectrum's conditions show by L or M lines below 1 keV alone. */
export const SOFT_FAMILY_PENALTY = 8;

/** Not in a solid under vacuum, or without stable isotopes and not found in natural or made materials. */
const NEVER = 'He Ne Ar Kr Xe Rn Tc Pm Po At Fr Ra Ac Pa';

const PENALTY = new Map<string, number>(
  PENALTY_CLASSES.flatMap(({ penalty, symbols }) => symbols.split(' ').map((symbol) => [symbol, penalty] as const)),
);
const EXCLUDED = new Set(NEVER.split(' ').map((symbol) => zOf(symbol)!));

/** Lowest element with a line above any detector's noise (Be K, 109 eV), and the highest considered. */
const FIRST_Z = 4;
const LAST_Z = 92;

/** Elements that an explanation may use, ascending Z. */
export const CANDIDATE_ELEMENTS: readonly number[] = Array.from(
  { length: LAST_Z - FIRST_Z + 1 },
  (_, i) => FIRST_Z + i,
).filter((z) => !EXCLUDED.has(z));

/** An element that the declared mounting may add is no surprise: it starts as carbon and oxygen do. */
export const MOUNT_PENALTY = 4;

/** −2 ln prior odds of an element. */
export function priorPenalty(z: number): number {
  return PENALTY.get(symbolOf(z)) ?? RARE_PENALTY;
}

import { Type, type Static } from 'typebox';
import { Measured } from '../identify/finding.ts';

/** One element as a spectrum has it: its counts, and the mass fraction that the model makes of them in the matrix it found. */
export const MeasuredElement = Type.Object({
  symbol: Type.String(),
  z: Type.Integer(),
  present: Type.Boolean(),
  counts: Measured,
  /** Null where the element is not in the explanation. */
  massFraction: Type.Union([Type.Number(), Type.Null()]),
  /** Its strongest line, as IUPAC names it; null where it has none here. */
  line: Type.Union([Type.String(), Type.Null()]),
});
export type MeasuredElement = Static<typeof MeasuredElement>;

/** What a spectrum was taken with, as far as amounts of elements hang on it. */
export interface Taken {
  readonly beamKev: number;
  readonly takeOffDeg: number;
}

/** A spectrum of a known material, read in the same way as the grains that are held against it. Plain data. */
export interface ReferenceGrain extends Taken {
  readonly name: string;
  /** What it is said to be: a formula, or formulas with percentages by mass. */
  readonly label: string;
  /** Mass fractions by that label. */
  readonly stated: readonly { readonly z: number; readonly massFraction: number }[];
  readonly elements: readonly MeasuredElement[];
  /** Sentences: elements that are there and should not be, or the other way round. */
  readonly contradictions: readonly string[];
}

/** Why a reference is not used. */
export type SetAside = 'beam' | 'take-off' | 'label' | 'other-references';

/** Beam energies and angles further apart than this are other measurements, relative and degrees. Chosen: the headers' own doubt. */
const SAME_BEAM = 0.02;
const SAME_TAKE_OFF_DEG = 2;

/** Why a reference says nothing of what was taken otherwise, or of anything; null where it does. */
export function unfitFor(reference: ReferenceGrain, { beamKev, takeOffDeg }: Taken): SetAside | null {
  if (Math.abs(reference.beamKev / beamKev - 1) > SAME_BEAM) return 'beam';
  if (Math.abs(reference.takeOffDeg - takeOffDeg) > SAME_TAKE_OFF_DEG) return 'take-off';
  return reference.contradictions.length > 0 ? 'label' : null;
}

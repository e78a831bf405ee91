import type { Band, Range } from '../pigments/optics-cells.ts';
import { type MaterialOptics, opticsOf, type OpticsProperty } from '../pigments/optics-table.ts';
import { BIREFRINGENCES, PLEOCHROISMS } from '../pigments/optics-words.ts';

/** Bands nearer than this are one, cm-1: calibration and mixing move them by some (common practice, no source). */
const SAME_BAND = { raman_cm1: 8, infrared_cm1: 15 };
/** Refractive indices nearer than this are not told apart by immersion without care (common practice, no source). */
const SAME_INDEX = 0.02;
/** The highest index of the usual immersion liquids: of two materials above it none is told from the other (common practice, no source). */
const HIGHEST_LIQUID = 1.8;

/** A sharp band of hydroxyl or crystal water lies above this, cm-1, clear of the broad water of medium and air: it tells as a strong one does. Common practice, no source. */
const SHARP_HYDROXYL = 3500;
/** Shapes that only one origin leaves. */
const FOSSILS = ['coccolith', 'diatom'];

/** Whether a property tells two materials apart, as far as both are known; what is unknown says nothing. The order of the two does not matter. */
export function areApart(one: string, other: string, property: OpticsProperty): boolean {
  const [a, b] = [opticsOf(one), opticsOf(other)];
  switch (property) {
    case 'raman_cm1':
    case 'infrared_cm1':
      return bandsApart(a[property]?.value, b[property]?.value, SAME_BAND[property]);
    case 'colour':
    case 'diffraction':
      return usualApart(a[property]?.value, b[property]?.value);
    case 'shape':
      return areOneCompound(a, b) && shapesApart(a.shape?.value, b.shape?.value);
    case 'refractive_index':
      return rangesApart(a[property]?.value, b[property]?.value);
    case 'birefringence':
      return stepsApart(a[property]?.value, b[property]?.value, BIREFRINGENCES) > 1;
    case 'pleochroism':
      return stepsApart(a[property]?.value, b[property]?.value, PLEOCHROISMS) > 1;
    case 'microchemistry':
      return testsApart(a[property]?.value, b[property]?.value);
    default:
      return wordsApart(a, b, property);
  }
}

/** The telling bands of one material that another has no band near; empty where one of them is not known. */
export function strange(own: readonly Band[] = [], other: readonly Band[] = [], near = SAME_BAND.raman_cm1): number[] {
  if (other.length === 0) return [];
  return own
    .filter(({ cm1, strongest }) => strongest || cm1 > SHARP_HYDROXYL)
    .filter(({ cm1 }) => other.every((band) => Math.abs(band.cm1 - cm1) > near))
    .map(({ cm1 }) => cm1);
}

const bandsApart = (a: readonly Band[] | undefined, b: readonly Band[] | undefined, near: number): boolean =>
  strange(a, b, near).length > 0 || strange(b, a, near).length > 0;

/** The usual colour, or the main phase, of one, which is named first, is none of the other's. */
const usualApart = (a: readonly string[] = [], b: readonly string[] = []): boolean =>
  a.length > 0 && b.length > 0 && (!b.includes(a[0]) || !a.includes(b[0]));

/** Nothing but habit and size can tell them apart: natural and made, ground and precipitated. */
const areOneCompound = ({ diffraction: a }: MaterialOptics, { diffraction: b }: MaterialOptics): boolean =>
  a !== undefined && a.value[0] === b?.value[0];

/** No shape in common, or remains of living things that only one of them has. */
const shapesApart = (a: readonly string[] = [], b: readonly string[] = []): boolean =>
  a.length > 0 &&
  b.length > 0 &&
  (!a.some((word) => b.includes(word)) || FOSSILS.some((fossil) => a.includes(fossil) !== b.includes(fossil)));

function wordsApart(
  a: MaterialOptics,
  b: MaterialOptics,
  property: 'isotropy' | 'uv' | 'opacity' | 'size_um',
): boolean {
  if (property === 'size_um') return false;
  const [ofA, ofB]: readonly (readonly string[])[] = [a[property]?.value ?? [], b[property]?.value ?? []];
  return ofA.length > 0 && ofB.length > 0 && !ofA.some((word) => ofB.includes(word));
}

/** A liquid fits between them. */
function rangesApart(a: Range | undefined, b: Range | undefined): boolean {
  if (a === undefined || b === undefined) return false;
  const [lower, upper] = a.high < b.high ? [a, b] : [b, a];
  return upper.low > lower.high + SAME_INDEX && lower.high < HIGHEST_LIQUID;
}

function stepsApart<Word>(a: Word | undefined, b: Word | undefined, words: readonly Word[]): number {
  return a === undefined || b === undefined ? 0 : Math.abs(words.indexOf(a) - words.indexOf(b));
}

/** A test that both are known for ends otherwise. */
function testsApart(a: readonly string[] = [], b: readonly string[] = []): boolean {
  const test = (outcome: string): string => outcome.slice(0, outcome.lastIndexOf('-'));
  const shared = a.map(test).filter((name) => b.some((outcome) => test(outcome) === name));
  return shared.some((name) => !a.some((outcome) => test(outcome) === name && b.includes(outcome)));
}

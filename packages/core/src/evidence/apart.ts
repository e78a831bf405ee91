import type { Band, Range } from '../pigments/optics-cells.ts';
import { type MaterialOptics, opticsOf, type OpticsProperty } from '../pigments/optics-table.ts';
import { BIREFRINGENCES, PLEOCHROISMS } from '../pigments/optics-words.ts';

/** Bands nearer than this are one, cm-1: calibration and mixing move them by some (common practice, no source). */
const SAME_BAND = { raman_cm1: 8, infrared_cm1: 15 };
/** Refractive indices nearer than this are not told apart by immersion without care (common practice, no source). */
const SAME_INDEX = 0.02;

/** Whether a property tells two materials apart, as far as both are known; what is unknown says nothing. */
export function areApart(one: string, other: string, property: OpticsProperty): boolean {
  const [a, b] = [opticsOf(one), opticsOf(other)];
  switch (property) {
    case 'raman_cm1':
    case 'infrared_cm1':
      return strange(a[property]?.value, b[property]?.value, SAME_BAND[property]).length > 0;
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

/** The strongest bands of one material that another has no band near; empty where one of them is not known. */
export function strange(own: readonly Band[] = [], other: readonly Band[] = [], near = SAME_BAND.raman_cm1): number[] {
  if (other.length === 0) return [];
  return own
    .filter(({ cm1, strongest }) => strongest && other.every((band) => Math.abs(band.cm1 - cm1) > near))
    .map(({ cm1 }) => cm1);
}

function wordsApart(
  a: MaterialOptics,
  b: MaterialOptics,
  property: 'colour' | 'isotropy' | 'uv' | 'diffraction' | 'opacity' | 'shape' | 'size_um',
): boolean {
  if (property === 'size_um') return false;
  const [ofA, ofB]: readonly (readonly string[])[] = [a[property]?.value ?? [], b[property]?.value ?? []];
  return ofA.length > 0 && ofB.length > 0 && !ofA.some((word) => ofB.includes(word));
}

function rangesApart(a: Range | undefined, b: Range | undefined): boolean {
  return a !== undefined && b !== undefined && (a.low > b.high + SAME_INDEX || b.low > a.high + SAME_INDEX);
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

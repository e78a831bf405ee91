import { againstMountant, type MaterialOptics } from '../pigments/optics-table.ts';
import { BIREFRINGENCES, MICROCHEMICAL_TESTS, PLEOCHROISMS } from '../pigments/optics-words.ts';
import type { Band, Range } from '../pigments/optics-cells.ts';
import { mountantOf, type Observations, type ObservedProperty } from './observations.ts';

/** How well a material shows what was seen, 0 (not) to 1 (as a rule); null where its row does not say. */
export type Fit = number | null;

/** Sizes are set by grinding and by the sample: no closer than this factor (common practice, no source). */
const SIZE_FACTOR = 3;
/** How far a band may lie from the table's, cm-1: calibration of the instrument, chemistry of the grain (common practice, no source). */
const RAMAN_WITHIN = 6;
const INFRARED_WITHIN = 10;

/** One thing that was seen, held against a row of the table. */
type Item = string | number | Range;
/** How an item of each property is held against a row of the table. */
const FITS: { readonly [Name in ObservedProperty]: (item: never, optics: MaterialOptics, seen: Observations) => Fit } =
  {
    colour: (item: string, { colour }) => among(item, colour?.value),
    opacity: (item: string, { opacity }) => among(item, opacity?.value),
    size_um: (item: Range, { size_um }) => sizesMeet(item, size_um?.value),
    shape: (item: string, { shape }) => among(item, shape?.value),
    refraction: (item: string, { refractive_index }, seen) => refracts(item, refractive_index?.value, seen),
    isotropy: (item: string, { isotropy }) => among(item, isotropy?.value),
    birefringence: (item: string, { birefringence }) => nextTo(item, birefringence?.value, BIREFRINGENCES),
    pleochroism: (item: string, { pleochroism }) => nextTo(item, pleochroism?.value, PLEOCHROISMS),
    uv: (item: string, { uv }) => among(item, uv?.value),
    microchemistry: (item: string, { microchemistry }) => reacts(item, microchemistry?.value),
    raman_cm1: (item: number, { raman_cm1 }) => bandNear(item, raman_cm1?.value, RAMAN_WITHIN),
    infrared_cm1: (item: number, { infrared_cm1 }) => bandNear(item, infrared_cm1?.value, INFRARED_WITHIN),
    diffraction: (item: string, { diffraction }) => named(item, diffraction?.value),
  };

export function fitOf(property: ObservedProperty, item: Item, optics: MaterialOptics, seen: Observations): Fit {
  return FITS[property](item as never, optics, seen);
}

/** What was seen of a property, one by one: words and bands each, a range as one. */
export function itemsOf(property: ObservedProperty, seen: Observations): readonly Item[] {
  const value = seen[property];
  if (value === undefined) return [];
  return typeof value === 'object' && !('low' in value) ? value : [value];
}

/** Lists have the most usual word first: the second counts half, the third a third. Chosen. */
const among = (word: string, known: readonly string[] | undefined): Fit =>
  known === undefined ? null : known.includes(word) ? 1 / (1 + known.indexOf(word)) : 0;

/** Phases stand side by side. */
const named = (phase: string, known: readonly string[] | undefined): Fit =>
  known === undefined ? null : yesOrNo(known.includes(phase));

const yesOrNo = (shows: boolean): Fit => (shows ? 1 : 0);

const sizesMeet = ({ low, high }: Range, known: Range | undefined): Fit =>
  known === undefined ? null : yesOrNo(high * SIZE_FACTOR >= known.low && low <= known.high * SIZE_FACTOR);

/** Where the index lies on both sides of the mountant's, each may be seen. */
function refracts(word: string, known: Range | undefined, seen: Observations): Fit {
  if (known === undefined) return null;
  const expected = againstMountant(known, mountantOf(seen));
  return yesOrNo(expected === word || expected === 'both');
}

/** Thin grains and plates that lie flat look less birefringent than the phase is: the next class fits too. */
function nextTo(word: string, known: string | undefined, order: readonly string[]): Fit {
  return known === undefined ? null : yesOrNo(Math.abs(order.indexOf(word) - order.indexOf(known)) <= 1);
}

function bandNear(cm1: number, known: readonly Band[] | undefined, within: number): Fit {
  return known === undefined ? null : yesOrNo(known.some((band) => Math.abs(band.cm1 - cm1) <= within));
}

/** A row speaks only of the tests that it names; a grain that dissolves with gas dissolves. */
function reacts(outcome: string, known: readonly string[] | undefined): Fit {
  if (known?.includes(outcome)) return 1;
  const test = Object.keys(MICROCHEMICAL_TESTS).find((name) => outcome.startsWith(`${name}-`));
  const own = known?.filter((one) => one.startsWith(`${test}-`)) ?? [];
  if (own.length === 0) return null;
  return yesOrNo(outcome === `${test}-dissolves` && own.some((one) => one.endsWith('gas')));
}

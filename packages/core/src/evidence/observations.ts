import { CellError, oneOf } from '../pigments/material-cells.ts';
import type { Range } from '../pigments/optics-cells.ts';
import { MOUNTANT_INDEX } from '../pigments/optics-table.ts';
import {
  BIREFRINGENCES,
  COLOURS,
  ISOTROPIES,
  MICROCHEMICAL_OUTCOMES,
  OPACITIES,
  PLEOCHROISMS,
  SHAPES,
  UV_RESPONSES,
} from '../pigments/optics-words.ts';
import { phases } from './phases.ts';

/** Refraction of the grain against the mountant, by Becke line or relief; `both` where that depends on the position of the grain. */
export const REFRACTIONS = ['higher', 'lower', 'both', 'same'] as const;

/** What stands for a property that nobody looked at; an empty cell says the same. */
export const NOT_LOOKED = 'not-looked';

/**
 * How what was seen is read: names as in data/pigments/optics.csv, but for refraction, which is seen against a mountant. All that a
 * property lists was seen, in the grain as a whole.
 */
const READERS = {
  colour: wordsOf(COLOURS),
  opacity: wordsOf(OPACITIES),
  size_um: rangeWithin(0.001, 10_000),
  shape: wordsOf(SHAPES),
  refraction: oneOf(REFRACTIONS),
  mountant: numberWithin(1.2, 4),
  isotropy: oneOf(ISOTROPIES),
  birefringence: oneOf(BIREFRINGENCES),
  pleochroism: oneOf(PLEOCHROISMS),
  uv: wordsOf(UV_RESPONSES),
  microchemistry: wordsOf(MICROCHEMICAL_OUTCOMES),
  raman_cm1: bandsWithin(50, 4000),
  infrared_cm1: bandsWithin(400, 4000),
  diffraction: (text: string) => wordsOf(phases())(text),
} as const;

export type ObservationName = keyof typeof READERS;
/** What else was seen of a grain, by property; what is left out was not looked at. Bands in cm-1, sizes in um. Plain data. */
export type Observations = { readonly [Name in ObservationName]?: ReturnType<(typeof READERS)[Name]> };
/** All but the index of the mountant, which is no observation of the grain. */
export type ObservedProperty = Exclude<ObservationName, 'mountant'>;

/** What may be stated as seen, by name: the columns of a sample sheet, and the mountant. */
export const OBSERVATION_NAMES = Object.keys(READERS) as readonly ObservationName[];
export const OBSERVED_PROPERTIES = OBSERVATION_NAMES.filter((name) => name !== 'mountant');

/** What was said to be seen, and cannot be read; the message says what and how else. */
export class ObservationError extends Error {
  override readonly name = 'ObservationError';
}

/**
 * Observations from names and texts: words, or numbers, with '+' or ';' between where several were seen. An empty text and
 * 'not-looked' say nothing.
 * @returns null where nothing was looked at
 * @throws ObservationError
 */
export function observationsIn(entries: Iterable<readonly [name: string, text: string]>): Observations | null {
  const seen: Partial<Record<ObservationName, unknown>> = {};
  for (const [name, text] of entries) {
    if (!isName(name)) throw new ObservationError(`'${name}' is not one of ${OBSERVATION_NAMES.join(', ')}`);
    if (name in seen) throw new ObservationError(`${name} is given twice; join what was seen, like blue+white`);
    const plain = text.trim();
    if (plain === '' || plain === NOT_LOOKED) continue;
    try {
      seen[name] = READERS[name](plain);
    } catch (error) {
      if (!(error instanceof CellError)) throw error;
      throw new ObservationError(`${name}: ${error.message}`, { cause: error });
    }
  }
  if ('mountant' in seen && !('refraction' in seen))
    throw new ObservationError('mountant: its index is useful only with refraction, higher or lower than the mountant');
  return Object.keys(seen).length === 0 ? null : (inOrder(seen) as Observations);
}

/** 'colour=blue,opacity=transparent': names with what was seen. @throws ObservationError */
export function observationsFrom(text: string): Observations | null {
  const entries = text.split(',').map((entry): [string, string] => {
    const [name, ...values] = entry.split('=');
    if (values.length !== 1 || values[0].trim() === '')
      throw new ObservationError(
        `'${entry.trim()}' is not an observation; write it like colour=blue,opacity=transparent`,
      );
    return [name.trim(), values[0]];
  });
  return observationsIn(entries);
}

/** What was seen as text again, in the order of the properties: 'blue+white', '403+1096', '2 to 10'. */
export function observationTexts(seen: Observations): (readonly [name: ObservationName, text: string])[] {
  return OBSERVATION_NAMES.flatMap((name) => {
    const value = seen[name];
    return value === undefined ? [] : [[name, textOf(value)] as const];
  });
}

function textOf(value: NonNullable<Observations[ObservationName]>): string {
  if (typeof value !== 'object') return String(value);
  if (!('low' in value)) return value.join('+');
  return value.low === value.high ? String(value.low) : `${value.low} to ${value.high}`;
}

export const mountantOf = ({ mountant }: Observations): number => mountant ?? MOUNTANT_INDEX;

const isName = (name: string): name is ObservationName => (OBSERVATION_NAMES as readonly string[]).includes(name);

/** The same whatever order they were told in. */
function inOrder(seen: Partial<Record<ObservationName, unknown>>): Partial<Record<ObservationName, unknown>> {
  return Object.fromEntries(OBSERVATION_NAMES.filter((name) => name in seen).map((name) => [name, seen[name]]));
}

function partsIn(text: string): string[] {
  const parts = text.split(/[+;]/).map((part) => part.trim());
  if (parts.includes('')) throw new CellError(`'${text}' has an empty entry; write several like blue+white`);
  return [...new Set(parts)];
}

function wordsOf<Word extends string>(words: readonly Word[]): (text: string) => readonly Word[] {
  const one = oneOf(words);
  return (text) => partsIn(text).map(one);
}

function numberWithin(least: number, most: number): (text: string) => number {
  return (text) => {
    const value = /^\d+(\.\d+)?$/.test(text) ? Number(text) : NaN;
    if (value >= least && value <= most) return value;
    throw new CellError(`'${text}' is not a number from ${least} to ${most}; check the unit`);
  };
}

/** '5', '2 to 10' or '2-10', in the unit of the property. */
function rangeWithin(least: number, most: number): (text: string) => Range {
  const number = numberWithin(least, most);
  return (text) => {
    const [low, high = low, ...more] = text.split(/\s*(?:-|\bto\b)\s*/).map(number);
    if (more.length > 0 || low > high) throw new CellError(`'${text}' is not a size; write it like 5 or 2 to 10`);
    return { low, high };
  };
}

function bandsWithin(least: number, most: number): (text: string) => readonly number[] {
  const number = numberWithin(least, most);
  return (text) =>
    partsIn(text)
      .map(number)
      .sort((a, b) => a - b);
}

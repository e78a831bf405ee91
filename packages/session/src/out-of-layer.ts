import type { Kinds } from '@limner/core';
import type { SampleSummary } from './layers.ts';

/** With fewer grains than this a layer has no majority. */
const FEWEST_FOR_MAJORITY = 2;

/** A grain of a kind that is no other's in its layer, but most grains' in another layer of the sample. */
export interface Stray {
  readonly file: string;
  readonly layer: number;
  /** The other layer, and the name of the kind. */
  readonly like: number;
  readonly kind: string;
}

/** Grains that may belong to another layer than the sheet says: questions, never verdicts. */
export function strays({ layers }: SampleSummary, { kinds }: Kinds): Stray[] {
  const kindOf = new Map(kinds.flatMap(({ number, members }) => members.map(({ file }) => [file, number] as const)));
  const built = layers.flatMap(({ layer, grains }) => {
    const numbers = grains.map(({ file }) => kindOf.get(file));
    return layer === null ? [] : [{ layer, grains, numbers, most: majority(numbers) }];
  });
  return built.flatMap(({ layer, grains, numbers }) =>
    grains.flatMap(({ file }, i) => {
      const number = numbers.at(i);
      if (grains.length < 2 || number === undefined || numbers.filter((n) => n === number).length > 1) return [];
      const other = built.find((one) => one.layer !== layer && one.most === number);
      return other ? [{ file, layer, like: other.layer, kind: kinds.at(number - 1)!.name }] : [];
    }),
  );
}

/** What more than half of a layer's grains are; undefined where nothing is. */
function majority(numbers: readonly (number | undefined)[]): number | undefined {
  if (numbers.length < FEWEST_FOR_MAJORITY) return undefined;
  return numbers.find((n) => n !== undefined && 2 * numbers.filter((m) => m === n).length > numbers.length);
}

import type { Kinds } from '@limner/core';
import type { SampleSummary } from './layers.ts';

/** A layer with fewer grains than this has no majority. */
const FEWEST_FOR_MAJORITY = 2;

/** A grain whose kind no other grain of its layer has, but most grains of another layer of the sample do. */
export interface Stray {
  readonly file: string;
  readonly layer: number;
  /** The other layer, and the name of the kind. */
  readonly like: number;
  readonly kind: string;
}

/** Grains that may belong to another layer than the sheet says: questions, not verdicts. */
export function strays({ layers }: SampleSummary, { kinds }: Kinds): Stray[] {
  const kindOf = new Map(kinds.flatMap(({ number, members }) => members.map(({ file }) => [file, number] as const)));
  const built = layers.flatMap(({ layer, grains }) => {
    const counts = new Map<number, number>();
    for (const { file } of grains) {
      const number = kindOf.get(file);
      if (number !== undefined) counts.set(number, (counts.get(number) ?? 0) + 1);
    }
    return layer === null ? [] : [{ layer, grains, counts, most: majority(counts, grains.length) }];
  });
  return built.flatMap(({ layer, grains, counts }) =>
    grains.flatMap(({ file }) => {
      const number = kindOf.get(file);
      if (grains.length < 2 || number === undefined || counts.get(number) !== 1) return [];
      const other = built.find((one) => one.layer !== layer && one.most === number);
      return other ? [{ file, layer, like: other.layer, kind: kinds.at(number - 1)!.name }] : [];
    }),
  );
}

/** The kind of more than half of a layer's grains; undefined where there is none. */
function majority(counts: ReadonlyMap<number, number>, grains: number): number | undefined {
  if (grains < FEWEST_FOR_MAJORITY) return undefined;
  return [...counts].find(([, count]) => 2 * count > grains)?.[0];
}

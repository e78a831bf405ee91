import { type Reading, readingTree } from '@limner/core';

/** A reading as JSON can carry it, with what it tells: plain arrays, the fitted curves rounded to a thousandth of a count. */
export function plainReading({ record, curves }: Pick<Reading, 'record' | 'curves'>) {
  return {
    record,
    tree: readingTree(record),
    curves: {
      energyEv: rounded(curves.energyEv),
      counts: Array.from(curves.counts),
      total: rounded(curves.total),
      background: rounded(curves.background),
      layers: curves.layers.map(({ kind, name, counts }) => ({ kind, name, counts: rounded(counts) })),
    },
  };
}

const rounded = (values: Float64Array): number[] => Array.from(values, (value) => Math.round(value * 1000) / 1000);

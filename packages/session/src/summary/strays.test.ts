import type { Kinds } from '@limner/core';
import { expect, it } from 'vitest';
import { bySample } from './layers.ts';
import { strays } from './strays.ts';

const found = { present: [], open: [], best: null, dating: null, questions: [] };
const grain = (file: string, layer: number | null) =>
  ({ file, place: { sample: 'S', layer, note: '' }, found }) as never;
const kinds = (...files: string[][]): Kinds =>
  ({
    kinds: files.map((its, i) => ({ number: i + 1, name: `K${i + 1}`, members: its.map((file) => ({ file })) })),
    outliers: [],
    also: new Map(),
  }) as never;

it('a grain of the kind of another layer, alone of that kind in its own, is asked about', () => {
  const [sample] = bySample([
    grain('a', 1),
    grain('b', 1),
    grain('c', 2),
    grain('d', 2),
    grain('e', 2),
    grain('f', null),
  ]);
  expect(strays(sample, kinds(['a', 'b', 'e', 'f'], ['c', 'd']))).toEqual([
    { file: 'e', layer: 2, like: 1, kind: 'K1' },
  ]);
  expect(strays(sample, kinds(['a', 'b', 'd', 'e']))).toEqual([]);
  expect(strays(sample, kinds(['a', 'e'], ['c', 'd']))).toEqual([]);
});

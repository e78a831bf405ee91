// The first page of a report: the samples of a session, a row each.

import { cell, column, type Node, row, section, table } from '../sections/tree.ts';
import { counted, fixed, yearText } from '../terms/numerals.ts';

/** A sample in a row. */
export interface SampleInShort {
  readonly sample: string;
  readonly layers: number;
  readonly grains: number;
  /** In how many grains each explanation fits best; most first. */
  readonly materials: readonly { readonly name: string; readonly grains: number }[];
  readonly notBefore: number | null;
  /** Grains with an element that stays open. */
  readonly open: number;
  /** Grains that differ from their layer. */
  readonly odd: number;
  /** Questions about the stated date. */
  readonly questions: number;
}

const COLUMNS = [
  column('sample', 'sample'),
  column('layers', 'layers', 'right'),
  column('grains', 'grains', 'right'),
  column('best', 'fits best'),
  column('year', 'not before', 'right'),
  column('look', 'worth a second look'),
];

const MOST_MATERIALS = 5;

/** The samples, a row each; none where there are none. */
export const samplesInShort = (samples: readonly SampleInShort[]): Node | null =>
  section('in-short', 'The samples at a glance', [
    table('samples', 'The samples of the session', COLUMNS, samples.map(rowOf)),
  ]);

function rowOf({ sample, layers, grains, materials, notBefore, open, odd, questions }: SampleInShort) {
  const look = [
    open > 0 ? `${counted(open, 'grain')} with an open element` : '',
    odd > 0 ? `${counted(odd, 'grain')} unlike ${odd === 1 ? 'its layer' : 'their layers'}` : '',
    questions > 0 ? `${counted(questions, 'question')} about the stated date` : '',
  ];
  return row(`short-${sample}`, [
    cell(sample),
    cell(fixed(layers, 0), layers),
    cell(fixed(grains, 0), grains),
    cell(
      [
        ...materials.slice(0, MOST_MATERIALS).map(({ name, grains: n }) => (n > 1 ? `${name} (${fixed(n, 0)})` : name)),
        ...(materials.length > MOST_MATERIALS ? [`${fixed(materials.length - MOST_MATERIALS, 0)} more`] : []),
      ].join('; '),
    ),
    cell(notBefore === null ? '' : yearText(notBefore), notBefore),
    cell(look.filter(Boolean).join('; ')),
  ]);
}

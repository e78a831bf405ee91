import { fixed, keV, significant } from '../telling/terms/numerals.ts';
import { lineName } from '../telling/terms/names.ts';
import { cell, column, paragraph, row, table, type Tree } from '../telling/sections/tree.ts';
import { type ChartOptions, type ChartPair, chartPairs } from './chart.ts';
import type { ExpectedLine } from '../peaks/expected-strength.ts';

/** The pairs of a wall chart as a table: known from paint first, then the strongest. */
export function chartTree(options: ChartOptions): Tree {
  const columns = [
    column('a', 'line'),
    column('b', 'and line'),
    column('energy', 'at', 'right'),
    column('apart', 'apart, eV', 'right'),
    column('strength', 'weaker line', 'right'),
    column('paint', 'known from paint'),
  ];
  const rows = chartPairs(options).map((pair, i) => pairRow(pair, i));
  const nodes = [
    table('chart', `Lines within ${options.withinEv} eV of each other at ${options.beamKev} keV`, columns, rows),
    paragraph('chart-note', NOTE, 'brief', 'note'),
  ];
  return { title: '', nodes: nodes.filter((node) => node !== null) };
}

const NOTE =
  'weaker line: photons recorded from the thick, pure element, as a fraction of the strongest line of all; only elements common in paint. ' +
  'Simulated: no evidence about any object.';

function pairRow({ a, b, apartEv, strength, paint }: ChartPair, i: number) {
  return row(`pair-${i + 1}`, [
    cell(named(a)),
    cell(named(b)),
    cell(keV(a.line.energyEv), a.line.energyEv),
    cell(fixed(apartEv, 1), apartEv),
    cell(significant(strength, 2), strength),
    cell(paint ? 'yes' : ''),
  ]);
}

const named = ({ line }: ExpectedLine): string =>
  `${line.symbol}\u00a0${lineName({ line: line.iupac, siegbahn: line.siegbahn })}`;

import { elementName } from '../atomic/elements.ts';
import type { Line } from '../atomic/lines.ts';
import { FAINTEST } from './cutoffs.ts';
import { counted, fixed, percent, signed, significant } from './numerals.ts';
import { cell, column, paragraph, row, table, type Tree } from './tree.ts';

/** X-ray lines as a table; faint ones in full only. @param near energy that they lie near, eV; null: none was asked for */
export function linesTree(lines: readonly Line[], near: number | null): Tree {
  const columns = [
    column('symbol', ''),
    column('name', 'element'),
    column('line', 'line'),
    column('siegbahn', 'Siegbahn'),
    column('energy', 'energy, eV', 'right'),
    column('off', 'off by, eV', 'right'),
    column('relative', 'of its subshell', 'right'),
    column('source', 'source'),
  ];
  const rows = lines.map(({ z, iupac, siegbahn, energyEv, relative, source, symbol, index }) =>
    row(
      `line-${index}`,
      [
        cell(symbol),
        cell(elementName(z), z),
        cell(iupac),
        cell(siegbahn ?? ''),
        cell(fixed(energyEv, 1), energyEv),
        near === null ? cell('') : cell(signed(energyEv - near, 1), energyEv - near),
        cell(significant(relative, 3), relative),
        cell(source),
      ],
      relative >= FAINTEST ? 'brief' : 'full',
    ),
  );
  const faint = lines.filter(({ relative }) => relative < FAINTEST).length;
  const nodes = [
    table('line-table', 'X-ray lines', columns, rows),
    lines.length === 0 ? paragraph('no-line', 'No line is known there.') : null,
    faint > 0
      ? paragraph('faint', `${counted(faint, 'line')} below ${percent(FAINTEST)} of the subshell: --full or --json.`)
      : null,
  ];
  return { title: '', nodes: nodes.filter((node) => node !== null) };
}

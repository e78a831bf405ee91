import { elementName } from '../atomic/elements.ts';
import type { Line } from '../atomic/lines.ts';
import { FAINTEST } from './terms/cutoffs.ts';
import { counted, fixed, percent, signed, significant } from './terms/numerals.ts';
import { cell, column, paragraph, row, table, type Tree } from './sections/tree.ts';

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
  const nodes = [
    table('line-table', 'X-ray lines', columns, rows),
    lines.length === 0 ? paragraph('no-line', 'No line is known there.') : null,
  ];
  return { title: '', nodes: nodes.filter((node) => node !== null) };
}

/** How many lines only the full table has; '' where it has no more. */
export function faintLines(lines: readonly Line[]): string {
  const faint = lines.filter(({ relative }) => relative < FAINTEST).length;
  return faint > 0 ? `${counted(faint, 'line')} below ${percent(FAINTEST)} of the subshell` : '';
}

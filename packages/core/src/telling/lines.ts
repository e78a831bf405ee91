import { elementName } from '../atomic/elements.ts';
import { priorPenalty } from '../identify/candidates.ts';
import type { ExpectedLine } from '../peaks/expected-strength.ts';
import { FAINTEST, RARE_FROM } from './terms/cutoffs.ts';
import { counted, fixed, listed, percent, signed, significant, trimmed } from './terms/numerals.ts';
import { cell, column, paragraph, row, table, type Row, type Tree } from './sections/tree.ts';

/** What was asked: the energy that the lines lie near, eV (null: an element's lines), and the beam they are expected under. */
export interface LinesAsked {
  readonly nearEv: number | null;
  readonly beamKev: number;
}

/** X-ray lines as a table, in the order given; faint ones, and near an energy those of rare elements, in full only. */
export function linesTree(lines: readonly ExpectedLine[], { nearEv, beamKev }: LinesAsked): Tree {
  const columns = [
    column('symbol', ''),
    column('name', 'element'),
    column('line', 'line'),
    column('siegbahn', 'Siegbahn'),
    column('energy', 'energy, eV', 'right'),
    column('off', 'distance, eV', 'right'),
    column('strength', `at ${trimmed(beamKev, 3)}\u00a0keV`, 'right'),
    column('relative', 'fraction of its subshell', 'right'),
    column('source', 'source'),
  ];
  const folds = foldedLines(lines, nearEv);
  const strongest = Math.max(...lines.filter((one) => !folds.has(one)).map(({ photons }) => photons));
  const rows = lines.map((one) => lineRow(one, nearEv, strongest, folds.has(one)));
  const nodes = [
    table('line-table', 'X-ray lines', columns, rows),
    lines.length === 0
      ? paragraph('no-line', 'No line is known there.')
      : paragraph('strength', STRENGTH, 'full', 'note'),
  ];
  return { title: '', nodes: nodes.filter((node) => node !== null) };
}

const STRENGTH =
  'at a beam energy: photons recorded from the thick, pure element, as a fraction of the strongest line listed; ' +
  'fraction of its subshell: of all radiative decays of the vacancy that the line fills.';

function lineRow(
  { line, edgeEv, excited, photons }: ExpectedLine,
  nearEv: number | null,
  strongest: number,
  folded: boolean,
): Row {
  const { symbol, z, iupac, siegbahn, energyEv, relative, source, index } = line;
  const share = strongest > 0 ? photons / strongest : 0;
  return row(
    `line-${index}`,
    [
      cell(symbol),
      cell(elementName(z), z),
      cell(iupac),
      cell(siegbahn ?? ''),
      cell(fixed(energyEv, 1), energyEv),
      nearEv === null ? cell('') : cell(signed(energyEv - nearEv, 1), energyEv - nearEv),
      cell(excited ? shareText(share) : `above ${fixed(edgeEv / 1000, 2)}\u00a0keV`, share),
      cell(significant(relative, 3), relative),
      cell(source),
    ],
    folded ? 'full' : 'brief',
  );
}

const LEAST_SHARE = 0.0005;
const shareText = (share: number): string => (share < LEAST_SHARE ? '<\u00a00.0005' : significant(share, 2));

/** Rows of the full table only: hardly any spectrum shows them. Where nothing else lies near, rare elements are told. */
function foldedLines(lines: readonly ExpectedLine[], nearEv: number | null): Set<ExpectedLine> {
  const faint = lines.filter(({ line }) => line.relative < FAINTEST);
  const rare = nearEv === null ? [] : lines.filter(({ line }) => priorPenalty(line.z) >= RARE_FROM);
  const folds = new Set([...faint, ...rare]);
  return folds.size < lines.length ? folds : new Set(faint);
}

/** How many lines only the full table has, and why; '' where it has no more. */
export function hiddenLines(lines: readonly ExpectedLine[], { nearEv }: LinesAsked): string {
  const folds = foldedLines(lines, nearEv);
  const faint = lines.filter(({ line }) => line.relative < FAINTEST).length;
  const rare = folds.size - faint;
  return listed([
    ...(faint > 0 ? [`${counted(faint, 'line')} below ${percent(FAINTEST)} of the subshell`] : []),
    ...(rare > 0 ? [`${counted(rare, 'line')} of elements rarely met in paint`] : []),
  ]);
}

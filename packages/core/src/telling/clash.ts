import {
  type Clash,
  type ClashLine,
  HIGHEST_BEAM_KEV,
  SEPARABLE_INFLATION,
  type SettlingLine,
} from '../peaks/clash.ts';
import { MOST_CLASH_ROWS } from './terms/cutoffs.ts';
import { lineName } from './terms/names.ts';
import { counted, fixed, numberWord, significant } from './terms/numerals.ts';
import { cell, column, type Node, paragraph, row, section, table, type Tree } from './sections/tree.ts';

/** What `separable` means. */
export const SEPARABLE_MEANS =
  `separable: with a known resolution the overlap alone widens the uncertainty of either line by at most a factor of ${SEPARABLE_INFLATION}, ` +
  '1/sqrt(1 - exp(-D^2 / (2 sigma^2))) for lines D apart on a dominant background (Cramer-Rao bound); energies and shapes taken as known.';

/** Line coincidences of two elements, and the lines that settle between them. */
export function clashTree(clash: Clash): Tree {
  const {
    elements: [a, b],
    beamKev,
    fwhmMnEv,
  } = clash;
  const nodes = [
    paragraph('answer', clashSummary(clash), 'brief', 'lead'),
    paragraph('conditions', `Beam ${beamKev}\u00a0keV, resolution ${fwhmMnEv}\u00a0eV (FWHM at 5.9\u00a0keV).`),
    section('pairs', 'Lines that coincide', [pairTable(clash)]),
    section('settling', 'Lines that settle it', [settlingTable(clash)]),
  ];
  return { title: `${a} and ${b}`, nodes: nodes.filter((node) => node !== null) };
}

/** How many lines coincide, and which line settles it. */
export function clashSummary({ elements: [a, b], pairs, settling }: Clash): string {
  if (pairs.length === 0) return `No lines of ${a} and ${b} lie within one FWHM of each other at this beam energy.`;
  const inseparable = pairs.filter(({ separable }) => !separable).length;
  const apart =
    inseparable === 0
      ? 'shape alone separates them all'
      : `shape alone does not separate ${inseparable === pairs.length ? 'them' : numberWord(inseparable)}`;
  const count = `${counted(pairs.length, 'pair')} of lines of ${a} and ${b} within one FWHM; ${apart}`;
  const now = settling.find(({ excited }) => excited);
  const later = settling.find(({ excited }) => !excited);
  if (now) return `${count}. ${settlingName(now)} settles it first.`;
  if (later) return `${count}. Nothing settles it here; ${settlingName(later)} does above ${later.edgeKev}\u00a0keV.`;
  return `${count}. No line settles it up to ${HIGHEST_BEAM_KEV}\u00a0keV.`;
}

const settlingName = ({ symbol, energyEv, ...line }: SettlingLine): string =>
  `${symbol}\u00a0${lineName(line)} at ${fixed(energyEv / 1000, 2)}\u00a0keV`;

const named = (line: ClashLine): string => `${lineName(line)}\u00a0${fixed(line.energyEv / 1000, 3)}`;
const rank = (i: number): 'brief' | 'full' => (i < MOST_CLASH_ROWS ? 'brief' : 'full');

function pairTable({ elements: [a, b], pairs }: Clash): Node | null {
  const columns = [
    column('a', `line of ${a}, keV`),
    column('b', `line of ${b}, keV`),
    column('apart', 'apart, eV', 'right'),
    column('separable', 'separable by shape'),
  ];
  const rows = pairs.map((pair, i) =>
    row(
      `pair-${i + 1}`,
      [
        cell(named(pair.a), pair.a.energyEv / 1000),
        cell(named(pair.b), pair.b.energyEv / 1000),
        cell(fixed(pair.separationEv, 1), pair.separationEv),
        cell(pair.separable ? 'yes' : 'no'),
      ],
      rank(i),
    ),
  );
  return table('pair-table', `Coinciding lines of ${a} and ${b}`, columns, rows);
}

function settlingTable({ settling }: Clash): Node | null {
  const columns = [
    column('symbol', ''),
    column('line', 'line, keV'),
    column('relative', 'of its family', 'right'),
    column('excited', 'excited'),
  ];
  const rows = settling.map((line, i) =>
    row(
      `settling-${i + 1}`,
      [
        cell(line.symbol),
        cell(named(line), line.energyEv / 1000),
        cell(significant(line.relative, 2), line.relative),
        cell(line.excited ? 'yes' : `above ${line.edgeKev}\u00a0keV`, line.edgeKev),
      ],
      rank(i),
    ),
  );
  return table('settling-table', 'Lines free of the other element', columns, rows);
}

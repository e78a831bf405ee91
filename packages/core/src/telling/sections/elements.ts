import { elementName } from '../../atomic/elements.ts';
import type { ElementFinding, FoundLine, Rival, SettlingLine, Verdict } from '../../identify/finding.ts';
import type { LimnerRecord } from '../../record/record.ts';
import { ENTANGLED, MOST_SETTLING, ONE_PEAK_EV } from '../terms/cutoffs.ts';
import { isCrowd, lineName, lineOf, membersOf, namedRival, rivalName } from '../terms/names.ts';
import { counts, fixed, listed, measured, numberWord, percent, probabilityText } from '../terms/numerals.ts';
import {
  cell,
  column,
  figure,
  type Length,
  type Node,
  paragraph,
  type Row,
  row,
  section,
  spareColumn,
  table,
} from './tree.ts';
import { chiSquare } from '../words/finding-reason.ts';
import { findingsWith, isToldByRival } from './answer.ts';

export const VERDICTS: Readonly<Record<Verdict, string>> = {
  present: 'present',
  open: 'open',
  'not-seen': 'not seen',
  blind: 'blind',
};

const COLUMNS = [
  column('symbol', ''),
  column('name', 'element'),
  column('verdict', 'verdict'),
  column('probability', 'probability', 'right'),
  column('massFraction', '%\u00a0by mass', 'right'),
  spareColumn('line', 'line, keV', 'left', 'full'),
  spareColumn('counts', 'counts', 'right', 'full'),
  spareColumn('rival', 'rival (chi-square)'),
];

/** The elements that are present or open: one row each; each row unfolds to why, and against what. */
export function elements(record: LimnerRecord): Node | null {
  const findings = [...findingsWith(record, 'present'), ...findingsWith(record, 'open')];
  if (findings.length === 0)
    return section('elements', 'Elements', [paragraph('no-elements', 'No element is present or open.')]);
  const rows = findings.map((finding) => elementRow(finding, isToldByRival(finding, record) ? 'full' : 'brief'));
  return section('elements', 'Elements', [
    table('element-table', 'Elements that are present or open', COLUMNS, rows),
    paragraph(
      'mass-note',
      'Mass fractions are standardless estimates, normalised over these elements. A rival could explain the same counts; the number is how much chi-square rises with the rival in its place.',
      'full',
      'note',
    ),
  ]);
}

function elementRow(finding: ElementFinding, length: Length): Row {
  const { symbol, z, verdict, probability, counts: found, massFraction, lines } = finding;
  const [strongest] = lines;
  return row(
    `element-${symbol}`,
    [
      cell(symbol),
      cell(elementName(z), z),
      cell(VERDICTS[verdict]),
      cell(probabilityText(probability), probability),
      massFraction ? cell(measured(massFraction, 100), 100 * massFraction.value) : cell(''),
      strongest ? cell(lineText(strongest), strongest.energyEv / 1000) : cell(''),
      cell(measured(found), found.value),
      rivalCell(finding),
    ],
    length,
    argument(finding),
  );
}

const lineText = (line: FoundLine): string => `${lineName(line)}\u00a0${fixed(line.energyEv / 1000, 3)}`;

/** 'Te (80 000)': by how much chi-square rises with the rival in its place. */
function rivalCell({ rivals }: ElementFinding) {
  const rival = namedRival(rivals);
  if (rival === undefined) return cell('');
  const members = membersOf(rival);
  const name = isCrowd(rival) ? `${numberWord(members.length)} together` : members.join('+');
  return cell(`${name} (${chiSquare(rival.deltaC)})`, rival.deltaC);
}

function argument(finding: ElementFinding): (Node | null)[] {
  const { symbol, lines, limit, rivals } = finding;
  const second = secondLine(lines);
  const told = [
    finding.reason,
    originText(finding),
    entangled(finding),
    second ? `Next line: ${lineText(second)}\u00a0keV.` : '',
    limit ? `Detection limit: ${counts(limit.counts)} counts, ${percent(limit.massFraction)}.` : '',
  ];
  return [
    paragraph(`why-${symbol}`, told.filter(Boolean).join(' '), 'full'),
    figure(
      `lines-${symbol}`,
      'element-lines',
      [symbol],
      `Lines of ${elementName(finding.z)}, with and without it`,
      'full',
    ),
    ...rivals.map((rival, i) => settlingTable(finding, rival, i)),
  ];
}

/** The strongest line that makes a peak of its own beside the first. */
function secondLine([first, ...others]: readonly FoundLine[]): FoundLine | undefined {
  return others.find(({ energyEv }) => Math.abs(energyEv - first.energyEv) > ONE_PEAK_EV);
}

function originText({ origin }: ElementFinding): string {
  if (origin === 'specimen') return '';
  return origin === 'setting' ? 'Most likely from the mounting.' : 'From the specimen or the mounting.';
}

/** Elements whose amounts hang together with this one's: their lines overlap. */
function entangled({ correlations }: ElementFinding): string {
  const strong = correlations.filter(({ value }) => Math.abs(value) >= ENTANGLED);
  if (strong.length === 0) return '';
  const told = strong.map(({ symbol, value }) => `${symbol} (correlation ${fixed(value, 2)})`);
  return `Its counts trade off against those of ${listed(told)}.`;
}

/** Lines that settle between an element and its rival; none for a rival of many elements. */
function settlingTable({ symbol }: ElementFinding, rival: Rival, i: number): Node | null {
  if (isCrowd(rival)) return null;
  const columns = [
    column('line', 'line that settles it, keV'),
    column('with', `expected with ${symbol}`, 'right'),
    column('instead', `with ${rivalName(rival)}`, 'right'),
    column('observed', 'observed', 'right'),
  ];
  const rows = rival.settling
    .slice(0, MOST_SETTLING)
    .map((line, k) =>
      row(
        `settling-${symbol}-${i + 1}-${k + 1}`,
        [
          cell(`${lineOf(line.symbol, line.line)}\u00a0${fixed(line.energyEv / 1000, 3)}`, line.energyEv / 1000),
          cell(expected(line.expectedWith), line.expectedWith),
          cell(expected(line.expectedInstead), line.expectedInstead),
          cell(observed(line), line.observed),
        ],
        'full',
      ),
    );
  return table(
    `settling-${symbol}-${i + 1}`,
    `Lines that settle it: ${symbol} or ${rivalName(rival)}, counts above everything else`,
    columns,
    rows,
    'full',
  );
}

/** Counts above what both explanations share; never below none. */
export const expected = (value: number): string => counts(Math.max(0, value));
export const observed = ({ observed: value, sigma }: SettlingLine): string => measured({ value, sigma });

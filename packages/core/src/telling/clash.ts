import type { ClashAnswer } from '../record/clash-answer.ts';
import { type Clash, type ClashLine, type ClashPair, SEPARABLE_INFLATION, type SettlingLine } from '../peaks/clash.ts';
import { KNOWLEDGE_SOURCES, type KnownClash } from '../pigments/knowledge.ts';
import type { Overlap, OverlapQuestion } from '../plan/overlap.ts';
import { cell, column, item, list, type Node, paragraph, row, section, table, type Tree } from './sections/tree.ts';
import { MOST_CLASH_ROWS } from './terms/cutoffs.ts';
import { lineName } from './terms/names.ts';
import { capital, fixed, listed, significant, trimmed } from './terms/numerals.ts';
import { answerText, lookText, questionText, summaryText } from './words/overlap.ts';

/** What `separable` means. */
export const SEPARABLE_MEANS =
  'questions: the answer, including counting and the uncertainty of the physics. pairs: an illustration that includes neither. ' +
  `separable: at a known resolution, the overlap alone widens the uncertainty of either line by at most a factor of ${SEPARABLE_INFLATION}, ` +
  '1/sqrt(1 - exp(-D^2 / (2 sigma^2))) for lines D apart on a dominant background (Cramer-Rao bound), energies and shapes being known.';

/** Whether a measurement tells the elements apart, the lines behind it, and what practice advises. */
export function clashTree({ overlap, lines, advice }: ClashAnswer): Tree {
  const { elements } = lines;
  const nodes = [
    paragraph('answer', clashSummary({ overlap }), 'brief', 'lead'),
    paragraph('conditions', conditionsText(overlap, lines)),
    section('questions', 'What the counts can tell', [questionList(overlap)]),
    section('pairs', 'Lines that coincide', [pairTable(lines)]),
    section('settling', 'Lines clear of the others', [settlingTable(lines)]),
    section('advice', 'From practice', [adviceList(advice)]),
    paragraph('limits', LIMITS, 'brief', 'note'),
  ];
  return { title: listed(elements), nodes: nodes.filter((node) => node !== null) };
}

/** The answers in a sentence each. */
export const clashSummary = ({ overlap }: Pick<ClashAnswer, 'overlap'>): string => summaryText(overlap.questions);

const LIMITS =
  'These are expectations of the forward model for a thick, flat, homogeneous specimen and a silicon detector of which only the resolution is known; ' +
  'they are no evidence about any object.';

function conditionsText({ counts, amounts, neighbours }: Overlap, { elements, beamKev, fwhmMnEv }: Clash): string {
  const parts = amounts.map((amount, i) => `${elements[i]}\u00a0${trimmed(amount, 6)}`);
  const beside = neighbours.length > 0 ? `; ${listed(neighbours)} also present` : '';
  return (
    `Beam ${beamKev}\u00a0keV, resolution ${fwhmMnEv}\u00a0eV (FWHM at 5.9\u00a0keV), ${fixed(counts, 0)} counts; ` +
    `parts by mass ${parts.join(', ')}${beside}.`
  );
}

function questionList({ questions, counts }: Overlap): Node | null {
  return list(
    'question-list',
    questions.map((question) =>
      item(
        idOf(question),
        `${answerText(question, counts)} ${lookText(question.lines)}`.trim(),
        'brief',
        questionText(question),
      ),
    ),
  );
}

const idOf = ({ ask, symbol }: OverlapQuestion): string => `question-${symbol}-${ask}`;

const named = (line: ClashLine): string => `${lineName(line)}\u00a0${fixed(line.energyEv / 1000, 3)}`;
const rank = (i: number): 'brief' | 'full' => (i < MOST_CLASH_ROWS ? 'brief' : 'full');

function pairTable({ elements, pairs }: Clash): Node | null {
  const two = elements.length === 2;
  const columns = [
    column('a', two ? `line of ${elements[0]}, keV` : 'line, keV'),
    column('b', two ? `line of ${elements[1]}, keV` : 'and line, keV'),
    column('apart', 'apart, eV', 'right'),
    column('widened', 'error grows by a factor of', 'right'),
  ];
  const line = (one: ClashLine): string => (two ? named(one) : `${one.symbol}\u00a0${named(one)}`);
  const rows = pairs.map((pair, i) => pairRow(pair, i, line));
  return table('pair-table', `Coinciding lines of ${listed(elements)}`, columns, rows);
}

const pairRow = (pair: ClashPair, i: number, line: (one: ClashLine) => string) =>
  row(
    `pair-${i + 1}`,
    [
      cell(line(pair.a), pair.a.energyEv / 1000),
      cell(line(pair.b), pair.b.energyEv / 1000),
      cell(fixed(pair.separationEv, 1), pair.separationEv),
      cell(significant(pair.inflation, 2), pair.inflation),
    ],
    rank(i),
  );

function settlingTable({ settling }: Clash): Node | null {
  const columns = [
    column('symbol', ''),
    column('line', 'line, keV'),
    column('relative', 'relative to the strongest of its family', 'right'),
    column('excited', 'excited'),
  ];
  const rows = settling.map((line: SettlingLine, i) =>
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
  return table('settling-table', 'Lines clear of the other elements', columns, rows);
}

function adviceList(advice: readonly KnownClash[]): Node | null {
  return list(
    'advice-list',
    advice.map((known, i) => item(`advice-${i + 1}`, adviceText(known), 'brief', adviceHead(known))),
  );
}

const adviceHead = ({ elementA, lineA, elementB, lineB }: KnownClash): string =>
  `${elementA}\u00a0${lineA}, ${elementB}\u00a0${lineB}.`;

/** What settles it, where it is met in paint, and who says so. */
export function adviceText({ settledBy, beamKev, paintContext, source }: KnownClash): string {
  const beam = beamKev === null ? '' : ` The line that settles it needs a beam above ${beamKev}\u00a0keV.`;
  const met = paintContext === '' ? '' : ` Met in: ${paintContext}.`;
  const titles = source.map((key) => KNOWLEDGE_SOURCES.find((one) => one.key === key)?.title ?? key);
  return `${capital(settledBy)}.${beam}${met} [${titles.join('; ')}]`;
}

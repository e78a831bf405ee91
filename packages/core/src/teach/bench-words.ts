import { elementName, zOf } from '../atomic/elements.ts';
import { cell, column, row, table, type Table } from '../telling/sections/tree.ts';
import { lineOf } from '../telling/terms/names.ts';
import { fixed, keV, listed, percent } from '../telling/terms/numerals.ts';
import { answerText, lookText, sigmaText } from '../telling/words/overlap.ts';
import type { CountsNeeded } from '../plan/counts-for.ts';
import type { BenchAnswer } from './bench.ts';
import type { BenchState } from './bench-state.ts';

/** What always stands beside a simulated spectrum. */
export const BENCH_CAUTION = 'Simulated, not measured: no evidence about any object.';

/** What the simulation leaves out. */
export const BENCH_LEFT_OUT =
  'Left out: charging, contamination that grows under the beam, stray X-rays from the chamber, tilted and rough surfaces, Bragg peaks, ' +
  'loss of alkalis, and most effects of chemical bonding on soft lines and on K-beta. A grain is cut through its middle, has a ' +
  'density of 4 g/cm3 and is embedded in resin; its spectrum is explained with the shapes of a thick specimen.';

/** What the bench found, in sentences. */
export interface BenchWords {
  /** One sentence: what this spectrum says. */
  readonly lead: string;
  readonly more: readonly string[];
  /** In a few words: what such spectra let expect. */
  readonly brief: string;
  /** What the figure shows: the counts of each part, in the order of the layers, and the lines that tell. */
  readonly parts: Table | null;
  readonly lines: Table | null;
}

/**
 * What the bench found, put in words.
 * @param counts of the whole spectrum   @param needed the counts that would tell; null while they are not known
 */
export function benchWords(
  answer: BenchAnswer,
  { counts }: Pick<BenchState, 'counts'>,
  needed: CountsNeeded | null,
): BenchWords {
  const { symbol, found, seen, sigma, recorded, entangled } = answer;
  const name = elementName(zOf(symbol) ?? 0);
  const figure = { brief: `${sigmaText(sigma)} expected`, parts: partsTable(answer), lines: linesTable(answer) };
  if (!recorded)
    return {
      ...figure,
      lead: `Without ${name} nothing changes: none of its lines is excited or recorded here.`,
      more: [],
    };
  const expected = needed
    ? answerText({ sigma, recorded, ...needed }, counts)
    : `${sigmaText(sigma)}; the number of counts needed is being worked out.`;
  return {
    ...figure,
    lead: `Without ${name}, the fit to this spectrum is worse by ${sigmaText(found)}.`,
    more: [
      `Expected for such spectra of a thick specimen: ${expected}`,
      ...(found < LEAST_SIGMA
        ? []
        : [
            `In this spectrum ${percent(seen)} of the rise in chi-square is misfit, drawn below. The rest is strain: ${STRAIN}`,
          ]),
      lookText(answer.lines) || 'No single line settles it; the whole shape does.',
      entangled === null
        ? `The amount of ${name} does not depend on that of any other element.`
        : `The amount of ${name} is tied to that of ${elementName(zOf(entangled.symbol) ?? 0)}: correlation ${fixed(entangled.correlation, 2)}.`,
    ],
  };
}

/** Below this there is nothing to share out. */
const LEAST_SIGMA = 1;
const STRAIN =
  'to follow the counts, the fit bends the axis, the resolution and the line ratios further than is likely.';

const PART_COLUMNS = [
  column('part', 'part'),
  column('counts', 'counts in its lines', 'right'),
  column('share', 'of all', 'right'),
];

function partsTable({ layers, withIt }: BenchAnswer): Table | null {
  const sum = (counts: ArrayLike<number>): number => Array.from(counts).reduce((total, value) => total + value, 0);
  const all = sum(withIt);
  return table(
    'bench-parts',
    'Counts of each part',
    PART_COLUMNS,
    layers.map(({ name, counts }, i) => {
      const held = sum(counts);
      return row(`bench-part-${i + 1}`, [cell(name), cell(fixed(held, 0), held), cell(percent(held / all))]);
    }),
  );
}

const LINE_COLUMNS = [
  column('line', 'line'),
  column('energy', 'energy', 'right'),
  column('with', 'counts with', 'right'),
  column('without', 'without', 'right'),
  column('sigma', 'sigma', 'right'),
];

const linesTable = ({ symbol, lines }: BenchAnswer): Table | null =>
  table(
    'bench-lines',
    `Lines that make the difference, with and without ${symbol}`,
    LINE_COLUMNS,
    lines.map(({ symbol: of, line, energyEv, expectedIfTrue, expectedIfNot, weight }) =>
      row(
        `bench-line-${of}-${line}`,
        [lineOf(of, line), keV(energyEv), fixed(expectedIfTrue, 0), fixed(expectedIfNot, 0), fixed(weight, 1)].map(
          (text) => cell(text),
        ),
      ),
    ),
  );

/** What the figure of the bench shows, for those who cannot see it. @param symbol what is taken out, if anything is */
export const benchFigureLabel = ([from, to]: readonly [number, number], symbol: string | null): string =>
  `Simulated spectrum from ${fixed(from, 1)} to ${fixed(to, 1)}\u00a0keV` +
  (symbol === null
    ? '.'
    : `, explained with and without ${symbol}, and the misfit without it. The tables below give the figures.`);

/** The verdicts of a full reading in a sentence. */
export const verdictSentence = (present: readonly string[], open: readonly string[]): string =>
  `Present: ${elementList(present)}. Open: ${elementList(open)}.`;

const elementList = (symbols: readonly string[]): string =>
  symbols.length === 0 ? 'none' : listed(symbols.map((symbol) => elementName(zOf(symbol) ?? 0)));

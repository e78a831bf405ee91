import { elementName, zOf } from '../../atomic/elements.ts';
import { FEWEST_COUNTS, MOST_COUNTS, SIGMAS } from '../../plan/counts-for.ts';
import type { OverlapQuestion } from '../../plan/overlap.ts';
import type { TellingLine } from '../../plan/separation.ts';
import { MOST_TELLING } from '../terms/cutoffs.ts';
import { lineOf } from '../terms/names.ts';
import { capital, fixed, keV, listed, significant } from '../terms/numerals.ts';

/** Sentences on whether a measurement tells elements apart whose lines fall together. */

const NB = '\u00a0';
const named = (symbol: string): string => elementName(zOf(symbol) ?? 0);
const allNamed = (symbols: readonly string[], last: string): string => listed(symbols.map(named), last);

type Asked = Pick<OverlapQuestion, 'ask' | 'symbol' | 'others'>;

/** 'Is sulfur there beside lead?' */
export function questionText({ ask, symbol, others }: Asked): string {
  return ask === 'beside'
    ? `Is ${named(symbol)} there beside ${allNamed(others, 'and')}?`
    : `If it is ${named(symbol)} alone: could it be ${allNamed(others, 'with')} instead?`;
}

type Answered = Pick<OverlapQuestion, 'sigma' | 'recorded' | 'countsNeeded' | 'mostSigma'>;

/** Standard deviations as told: no more digits than the doubt of the physics bears. */
export function sigmaText(sigma: number): string {
  if (sigma > 0 && sigma < 0.1) return `<${NB}0.1${NB}sigma`;
  return `${sigma < 10 ? fixed(sigma, 1) : significant(sigma, 2)}${NB}sigma`;
}

/** The counts that would do, or why none do. */
export function neededText({ recorded, countsNeeded, mostSigma }: Omit<Answered, 'sigma'>): string {
  if (!recorded) return 'No line of it is excited or recorded here, so no counts suffice.';
  if (countsNeeded === FEWEST_COUNTS) return `${FEWEST_COUNTS} counts give ${SIGMAS}${NB}sigma already.`;
  if (countsNeeded !== null) return `${SIGMAS}${NB}sigma need about ${significant(countsNeeded, 2)} counts.`;
  const most = `${sigmaText(mostSigma)} even with ${fixed(MOST_COUNTS / 1e6, 0)} million`;
  return `No counts suffice: the doubt of the physics stands (${most}).`;
}

/** 'Yes' only where the counts carry it. */
export function answerText({ sigma, ...needed }: Answered, counts: number): string {
  const many = `${fixed(counts, 0)} counts`;
  if (!needed.recorded) return `It cannot be told. ${neededText(needed)}`;
  const head = sigma >= SIGMAS ? `${many} tell it` : `${many} do not tell it`;
  return `${head}: ${sigmaText(sigma)}. ${neededText(needed)}`;
}

/** Where to look; '' where no single line decides. @param truth what is there if the first figure holds */
export function lookText(lines: readonly TellingLine[]): string {
  if (lines.length === 0) return '';
  const each = lines
    .slice(0, MOST_TELLING)
    .map(
      ({ symbol, line, energyEv, expectedIfTrue, expectedIfNot }) =>
        `${lineOf(symbol, line)} at ${keV(energyEv)} (${fixed(expectedIfTrue, 0)} counts around it if so, ${fixed(expectedIfNot, 0)} if not)`,
    );
  return `Look at ${listed(each)}.`;
}

/** 'Sulfur beside lead: yes. Lead beside sulfur: yes. One for the other: not with these counts.' */
export function summaryText(questions: readonly OverlapQuestion[]): string {
  const beside = questions.filter(({ ask }) => ask === 'beside');
  const instead = questions.filter(({ ask }) => ask === 'instead');
  const weakest = instead.reduce<OverlapQuestion | undefined>(
    (least, one) => (least === undefined || one.sigma < least.sigma ? one : least),
    undefined,
  );
  const told = beside.map(
    (one) => `${capital(named(one.symbol))} beside ${allNamed(one.others, 'and')}: ${verdict(one)}.`,
  );
  const which = weakest
    ? [`One taken for the other${weakest.others.length > 1 ? 's' : ''}: ${confused(weakest)}.`]
    : [];
  return [...told, ...which].join(' ');
}

function verdict({ sigma, recorded, countsNeeded }: Answered): string {
  if (!recorded) return 'cannot be told, no line of it is excited';
  if (sigma >= SIGMAS) return `told, ${sigmaText(sigma)}`;
  if (countsNeeded === null) return `not told by any counts, ${sigmaText(sigma)}`;
  return `not told yet, ${sigmaText(sigma)}; about ${significant(countsNeeded, 2)} counts would do`;
}

const confused = (one: Answered): string =>
  one.sigma >= SIGMAS ? `ruled out, ${sigmaText(one.sigma)} at least` : `possible; ${verdict(one)}`;

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
    ? `Is ${named(symbol)} present alongside ${allNamed(others, 'and')}?`
    : `If it is ${named(symbol)} alone, could it be ${allNamed(others, 'with')} instead?`;
}

type Answered = Pick<OverlapQuestion, 'sigma' | 'recorded' | 'countsNeeded' | 'mostSigma'>;

/** Standard deviations as told: no more digits than the doubt of the physics bears. */
export function sigmaText(sigma: number): string {
  if (sigma > 0 && sigma < 0.1) return `<${NB}0.1${NB}sigma`;
  return `${sigma < 10 ? fixed(sigma, 1) : significant(sigma, 2)}${NB}sigma`;
}

/** The counts that would do, or why none do. */
export function neededText({ recorded, countsNeeded, mostSigma }: Omit<Answered, 'sigma'>): string {
  if (!recorded) return 'None of its lines is excited or recorded here, so no number of counts is enough.';
  if (countsNeeded === FEWEST_COUNTS) return `${FEWEST_COUNTS} counts already give ${SIGMAS}${NB}sigma.`;
  if (countsNeeded !== null) return `About ${significant(countsNeeded, 2)} counts give ${SIGMAS}${NB}sigma.`;
  const most = `${sigmaText(mostSigma)} even with ${fixed(MOST_COUNTS / 1e6, 0)} million`;
  return `No number of counts is enough: the uncertainty of the physics remains (${most}).`;
}

/** Whether so many counts decide it, and how many would. */
export function answerText({ sigma, ...needed }: Answered, counts: number): string {
  const many = `${fixed(counts, 0)} counts`;
  if (!needed.recorded) return `This cannot be decided. ${neededText(needed)}`;
  const head = sigma >= SIGMAS ? `${many} decide it` : `${many} do not decide it`;
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

/** 'Sulfur beside lead: detectable, 31 sigma. ... Mistaking one for the other: ruled out, 50 sigma or more.' */
export function summaryText(questions: readonly OverlapQuestion[]): string {
  const beside = questions.filter(({ ask }) => ask === 'beside');
  const instead = questions.filter(({ ask }) => ask === 'instead');
  const weakest = instead.reduce<OverlapQuestion | undefined>(
    (least, one) => (least === undefined || one.sigma < least.sigma ? one : least),
    undefined,
  );
  const told = beside.map(
    (one) => `${capital(named(one.symbol))} alongside ${allNamed(one.others, 'and')}: ${verdict(one)}.`,
  );
  const which = weakest
    ? [`Mistaking one for the other${weakest.others.length > 1 ? 's' : ''}: ${confused(weakest)}.`]
    : [];
  return [...told, ...which].join(' ');
}

function verdict({ sigma, recorded, countsNeeded }: Answered): string {
  if (!recorded) return 'not detectable, as none of its lines is excited';
  if (sigma >= SIGMAS) return `detectable, ${sigmaText(sigma)}`;
  if (countsNeeded === null) return `not detectable with any number of counts, ${sigmaText(sigma)}`;
  return `not detectable with these counts, ${sigmaText(sigma)}; about ${significant(countsNeeded, 2)} would be enough`;
}

function confused({ sigma, recorded, countsNeeded }: Answered): string {
  if (!recorded) return 'possible, as no line that differs is excited';
  if (sigma >= SIGMAS) return `ruled out, ${sigmaText(sigma)} or more`;
  if (countsNeeded === null) return `possible with any number of counts, ${sigmaText(sigma)}`;
  return `possible, ${sigmaText(sigma)}; about ${significant(countsNeeded, 2)} counts would rule it out`;
}

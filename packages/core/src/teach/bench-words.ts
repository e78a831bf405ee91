import { elementName, zOf } from '../atomic/elements.ts';
import { fixed, listed } from '../telling/terms/numerals.ts';
import { answerText, lookText, sigmaText } from '../telling/words/overlap.ts';
import type { CountsNeeded } from '../plan/counts-for.ts';
import type { BenchAnswer } from './bench.ts';
import type { BenchState } from './bench-state.ts';

/** What always stands beside a simulated spectrum. */
export const BENCH_CAUTION = 'Simulated, not measured: no evidence about any object.';

/** What the simulation leaves out. */
export const BENCH_LEFT_OUT =
  'Left out: charging, contamination that grows under the beam, stray X-rays of the chamber, tilt and rough surfaces, Bragg peaks, ' +
  'loss of alkalis, and most of what a chemical bond does to soft lines and to K-beta. A grain is cut through its middle, has a ' +
  'density of 4 g/cm3 and lies in resin; its spectrum is explained with the shapes of a thick specimen.';

/** What the bench found, in sentences. */
export interface BenchWords {
  /** One sentence: what this spectrum says. */
  readonly lead: string;
  readonly more: readonly string[];
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
  const { symbol, found, sigma, recorded, entangled } = answer;
  const name = elementName(zOf(symbol) ?? 0);
  if (!recorded)
    return { lead: `Without ${name} nothing changes: no line of it is excited or recorded here.`, more: [] };
  const expected = needed
    ? answerText({ sigma, recorded, ...needed }, counts)
    : `${sigmaText(sigma)}; the counts that would do are being sought.`;
  return {
    lead: `Without ${name} the fit to this spectrum is worse by ${sigmaText(found)}.`,
    more: [
      `Expected of such spectra of a thick specimen: ${expected}`,
      lookText(answer.lines) || 'No single line decides; the whole shape does.',
      entangled === null
        ? `The amount of ${name} stands by itself.`
        : `The amount of ${name} is tied to that of ${elementName(zOf(entangled.symbol) ?? 0)}: correlation ${fixed(entangled.correlation, 2)}.`,
    ],
  };
}

/** The elements of a verdict in a line each, for the bench's third speed. */
export const elementList = (symbols: readonly string[]): string =>
  symbols.length === 0 ? 'none' : listed(symbols.map((symbol) => elementName(zOf(symbol) ?? 0)));

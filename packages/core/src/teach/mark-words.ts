import { elementName, zOf } from '../atomic/elements.ts';
import { SIGMAS } from '../plan/counts-for.ts';
import { capital, percent } from '../telling/terms/numerals.ts';
import { lookText, neededText, sigmaText } from '../telling/words/overlap.ts';
import type { Decidable, Mark } from './marking.ts';

/** Why an answer got its mark: what the counts bear, where it shows, and what would tell it otherwise. */
export function markText(decidable: Decidable, { said, borne }: Mark): string {
  const { symbol, present, decides, sigma, content, lines } = decidable;
  const name = capital(elementName(zOf(symbol) ?? 0));
  const there = present ? `${name} is present, ${percent(content)} by mass.` : `${name} is absent.`;
  const what = present ? 'Leaving it out' : `${percent(content)} of it`;
  const told = decides
    ? `${what} ${present ? 'costs' : 'would show as'} ${sigmaText(sigma)}, so the counts decide. ${lookText(lines)}`
    : `${what} ${present ? 'costs' : 'would show as'} only ${sigmaText(sigma)}, less than ${SIGMAS}: the counts cannot decide. ${neededText(decidable)}`;
  return `${there} ${told.trim()} You said ${percent(said)}; the counts support ${percent(borne)}.`;
}

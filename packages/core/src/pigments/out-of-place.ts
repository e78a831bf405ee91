import { Type, type Static } from 'typebox';
import type { Finding, Rival } from '../identify/finding.ts';
import type { DatingData } from './dating.ts';
import type { GrainExplanation, Standing } from './standing.ts';

/** A question, never a verdict: something that does not go with the date that the object is said to have. */
export const DateQuestion = Type.Object({
  /** The element that argues for a later date, or the material that had gone out of use. */
  subject: Type.String(),
  kind: Type.Union([Type.Literal('too-early'), Type.Literal('out-of-use')]),
  /** Years between the stated date and the use. */
  years: Type.Integer(),
  question: Type.String(),
});
export type DateQuestion = Static<typeof DateQuestion>;

/** The question as data; `telling` words it for the record. */
export type DateQuestionData = Omit<DateQuestion, 'question' | 'kind'> & {
  /** The stated year, and the first or last known use. */
  readonly stated: number;
  readonly known: number;
} & (
    | { readonly kind: 'too-early'; readonly argument: DatingData; readonly rival: Rival | null }
    | { readonly kind: 'out-of-use' }
  );

/** Dates of use are known to within some decades: nearer than this nothing is asked, years. */
const LEEWAY = 25;
/** Old stock and revivals: only what had been out of use for so long is worth a question, years. */
const OLD_STOCK = 50;

/** What to ask when an object is said to be of a year. @param stated BCE negative */
export function dateQuestions(
  stated: number,
  findings: readonly Finding[],
  standings: readonly Standing[],
  explanations: readonly Pick<GrainExplanation, 'parts'>[],
  dating: readonly DatingData[],
): DateQuestionData[] {
  return [...later(stated, findings, dating), ...outOfUse(stated, standings, explanations)];
}

function later(stated: number, findings: readonly Finding[], dating: readonly DatingData[]): DateQuestionData[] {
  return dating
    .filter(({ year }) => year > stated + LEEWAY)
    .map((argument) => {
      const { symbol, year } = argument;
      const rival = findings.find((finding) => finding.symbol === symbol)?.rivals[0] ?? null;
      return { subject: symbol, kind: 'too-early', years: year - stated, stated, known: year, argument, rival };
    });
}

/** The material named first in the best explanation, were every look-alike of it out of use by then. */
function outOfUse(
  stated: number,
  standings: readonly Standing[],
  explanations: readonly Pick<GrainExplanation, 'parts'>[],
): DateQuestionData[] {
  const [best] = explanations;
  return (best?.parts ?? []).flatMap(({ group }): DateQuestionData[] => {
    const alike = standings.filter((standing) => standing.standing === 'allowed' && standing.group === group);
    const ended = alike.map(({ latestUse }) => latestUse ?? Infinity);
    const last = Math.max(...ended);
    const name = alike[ended.indexOf(last)]?.name;
    return name !== undefined && last < stated - OLD_STOCK
      ? [{ subject: name, kind: 'out-of-use', years: stated - last, stated, known: last }]
      : [];
  });
}

import { Type, type Static } from 'typebox';
import type { ElementFinding } from '../identify/finding.ts';
import { yearInWords, type DatingArgument } from './dating.ts';
import type { GrainExplanation, PigmentStanding } from './standing.ts';

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

/** Dates of use are known to within some decades: nearer than this nothing is asked, years. */
const LEEWAY = 25;
/** Old stock and revivals: only what had been out of use for so long is worth a question, years. */
const OLD_STOCK = 50;

/** What to ask when an object is said to be of a year. @param year BCE negative */
export function dateQuestions(
  year: number,
  findings: readonly ElementFinding[],
  standings: readonly PigmentStanding[],
  explanations: readonly GrainExplanation[],
  dating: readonly DatingArgument[],
): DateQuestion[] {
  return [...later(year, findings, dating), ...outOfUse(year, standings, explanations)];
}

function later(year: number, findings: readonly ElementFinding[], dating: readonly DatingArgument[]): DateQuestion[] {
  return dating
    .filter((argument) => argument.year > year + LEEWAY)
    .map((argument) => {
      const { symbol, weakestLink } = argument;
      const rival = findings.find((finding) => finding.symbol === symbol)?.rivals[0];
      return {
        subject: symbol,
        kind: 'too-early',
        years: argument.year - year,
        question:
          `${symbol} goes with materials known from ${yearInWords(argument.year)} on, and the stated date is ${yearInWords(year).replace('about ', '')}: ` +
          `is this a restoration or a later addition, is the stated date wrong, or is it misread${rival ? ` (for ${rival.name})` : ''}? The weakest link is ${weakestLink.text}.`,
      };
    });
}

/** The material named first in the best explanation, were every look-alike of it out of use by then. */
function outOfUse(
  year: number,
  standings: readonly PigmentStanding[],
  explanations: readonly GrainExplanation[],
): DateQuestion[] {
  const [best] = explanations;
  return (best?.parts ?? []).flatMap(({ group }) => {
    const alike = standings.filter((standing) => standing.standing === 'allowed' && standing.group === group);
    const ended = alike.map(({ latestUse }) => latestUse ?? Infinity);
    const last = Math.max(...ended);
    const name = alike[ended.indexOf(last)]?.name;
    return name !== undefined && last < year - OLD_STOCK
      ? [
          {
            subject: name,
            kind: 'out-of-use' as const,
            years: year - last,
            question:
              `${name} is hardly known after ${yearInWords(last).replace('about ', '')}, and the stated date is ${yearInWords(year).replace('about ', '')}: ` +
              'is it a reused or older layer, old stock, a revival, or is it misread?',
          },
        ]
      : [];
  });
}

import { Type, type Static } from 'typebox';
import type { Finding, Rival } from '../identify/finding.ts';
import type { DatingData } from './dating.ts';
import { type MaterialsInUse, materialsInUse } from './own-materials.ts';
import type { GrainExplanation } from './standing.ts';

/** A question, never a verdict: something that does not go with the date that the object is said to have. */
export const DateQuestion = Type.Object({
  /** The material that argues for a later date, or that had gone out of use. */
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
  explanations: readonly Pick<GrainExplanation, 'parts'>[],
  dating: readonly DatingData[],
  materials: MaterialsInUse = materialsInUse(null),
): DateQuestionData[] {
  return [...later(stated, findings, dating), ...outOfUse(stated, explanations, materials)];
}

function later(stated: number, findings: readonly Finding[], dating: readonly DatingData[]): DateQuestionData[] {
  return dating
    .filter(({ year }) => year > stated + LEEWAY)
    .slice(0, 1)
    .map((argument) => {
      const { symbol, year, names } = argument;
      const rival = findings.find((finding) => finding.symbol === symbol)?.rivals[0] ?? null;
      return { subject: names[0], kind: 'too-early', years: year - stated, stated, known: year, argument, rival };
    });
}

/** A part of the best explanation, were it and everything that may stand in its place out of use by then. */
function outOfUse(
  stated: number,
  [best]: readonly Pick<GrainExplanation, 'parts'>[],
  { byId }: MaterialsInUse,
): DateQuestionData[] {
  return (best?.parts ?? []).flatMap(({ id, others }): DateQuestionData[] => {
    const alike = [id, ...others.map((other) => other.id)].flatMap((one) => byId(one) ?? []);
    const ended = alike.map(({ latest }) => latest ?? Infinity);
    const last = Math.max(...ended);
    const name = alike[ended.indexOf(last)]?.name;
    return name !== undefined && last < stated - OLD_STOCK
      ? [{ subject: name, kind: 'out-of-use', years: stated - last, stated, known: last }]
      : [];
  });
}

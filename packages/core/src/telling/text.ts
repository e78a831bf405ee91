import { brightnessLines } from './text-brightness.ts';
import { printable, wrap } from './layout.ts';
import type { ClaimAnswer, LimnerRecord } from '../record/record.ts';
import { axisSentence, conditionsSentence, fitSentence, summary } from './sentences.ts';
import { elementLines, limitLines, unexplainedLines } from './text-elements.ts';
import { ratioLines } from './text-ratios.ts';
import { allowedLines, dateQuestionLines, datingLines, ruledOutLines, yearText } from './text-pigments.ts';

const ANSWERS: Readonly<Record<ClaimAnswer['answer'], string>> = {
  supported: 'supported',
  'not-needed': 'not needed',
  contradicted: 'contradicted',
  'cannot-tell': 'cannot be told',
};

/** A record as a person reads it: plain text of at most 100 columns, ending with a line break. Derived from the record alone. */
export function readingText(record: LimnerRecord): string {
  const name = printable(record.source.name) || 'unnamed spectrum';
  const title = printable(record.source.title);
  const sections: readonly (readonly [heading: string, lines: readonly string[]])[] = [
    ['Elements (mass fractions are standardless estimates, normalised over these)', elementLines(record)],
    ['Limits', limitLines(record)],
    ['Unexplained', unexplainedLines(record)],
    ['Asked of the spectrum', answerLines(record)],
    ['Materials the elements allow (they suggest, never prove)', allowedLines(record)],
    ['Ratios of elements, by atoms', ratioLines(record)],
    ['Brightness in the backscatter image', brightnessLines(record)],
    ['Ruled out, though near', ruledOutLines(record)],
    ['Earliest date (an argument, no proof)', datingLines(record)],
    [`Questions, for an object said to be of ${yearText(record.statedDate?.year ?? 0)}`, dateQuestionLines(record)],
    ['To bear in mind', bullets(record.warnings.map(({ text }) => text))],
    ['Cautions', bullets(record.cautions)],
  ];
  return [
    ...wrap(title && title !== name ? `${name}: ${title}` : name),
    '',
    ...wrap(summary(record)),
    '',
    ...wrap([conditionsSentence(record), axisSentence(record), fitSentence(record)].join(' ')),
    ...sections.filter(([, lines]) => lines.length > 0).flatMap(([heading, lines]) => ['', heading, ...lines]),
    '',
  ].join('\n');
}

function answerLines({ claims, without }: LimnerRecord): string[] {
  return [
    ...claims.flatMap(({ symbol, answer, reason }) => wrap(`${symbol}: ${ANSWERS[answer]}. ${reason}`, 2, 2)),
    ...(without ? wrap(without.reason, 2, 2) : []),
  ];
}

const bullets = (texts: readonly string[]): string[] => texts.flatMap((text) => wrap(`- ${printable(text)}`, 2, 2));

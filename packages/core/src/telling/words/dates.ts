import type { DatingArgument, DatingData, WeakestLink } from '../../pigments/dating.ts';
import type { DateQuestion, DateQuestionData } from '../../pigments/out-of-place.ts';
import type { Trust } from '../../pigments/knowledge.ts';
import { MOST_OF_FAMILY } from '../terms/cutoffs.ts';
import { alternatives, rivalName, shortNames } from '../terms/names.ts';
import { capital, fixed, probabilityText, yearText } from '../terms/numerals.ts';

/** An argument on the earliest date in words, as the record has it. */
export function wordedDating(data: DatingData): DatingArgument {
  const { names, weakestLink, ...argument } = data;
  return {
    ...argument,
    reason: datingReason(data),
    weakestLink: { kind: weakestLink.kind, text: linkText(weakestLink, names) },
  };
}

function datingReason({ year, probability, names, inPainting, until }: DatingData): string {
  const used = inPainting === null ? '' : `, in painting from about ${yearText(inPainting)}`;
  const ended = until === null ? '' : `, in common use until about ${yearText(until)}`;
  return `If it is ${namesText(names)}, fit ${fixed(probability, 2)}: not before about ${yearText(year)}${used}${ended}.`;
}

const namesText = (names: readonly string[]): string => alternatives(shortNames(names.slice(0, MOST_OF_FAMILY)));

const SOURCES: Readonly<Record<Trust, string>> = {
  high: 'agree',
  medium: 'differ by decades',
  low: 'are few or disagree',
  none: 'are few or disagree',
};

function linkText(link: WeakestLink, names: readonly string[]): string {
  switch (link.kind) {
    case 'element':
      return `that ${link.symbol} is present at all (probability ${probabilityText(link.probability)})`;
    case 'explanation':
      return `that it is ${namesText(names)}: other materials explain the elements too`;
    case 'date':
      return `the first use, on which sources ${SOURCES[link.trust]}`;
    case 'knowledge':
      return 'that no older material with these elements is missing from the tables';
  }
}

/** An anachronism in words: a question, never a verdict. */
export function wordedDateQuestion(data: DateQuestionData): DateQuestion {
  const { subject, kind, years, stated, known } = data;
  const told = yearText(stated);
  if (data.kind === 'out-of-use') {
    return {
      subject,
      kind,
      years,
      question:
        `${capital(subject)} is hardly known after ${yearText(known)}; the stated year is ${told}. ` +
        'Is the layer older or reused, is it old stock or a revival, or is the pigment misidentified?',
    };
  }
  const misread = data.rival ? ` (for ${rivalName(data.rival)})` : '';
  return {
    subject,
    kind,
    years,
    question:
      `${capital(namesText(data.argument.names))} is known from about ${yearText(known)}; the stated year is ${told}. ` +
      `Is this a restoration or a later addition, is the year wrong, or is ${data.argument.symbol} misidentified${misread}? ` +
      `Weakest link: ${linkText(data.argument.weakestLink, data.argument.names)}.`,
  };
}

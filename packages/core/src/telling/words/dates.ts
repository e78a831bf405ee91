import type { DatingArgument, DatingData, WeakestLink } from '../../pigments/dating.ts';
import type { DateQuestion, DateQuestionData } from '../../pigments/out-of-place.ts';
import type { Trust } from '../../pigments/knowledge.ts';
import { rivalName, within } from '../terms/names.ts';
import { capital, counted, probabilityText, yearText } from '../terms/numerals.ts';

/** An argument on the earliest date in words, as the record has it. */
export function wordedDating(data: DatingData): DatingArgument {
  const { symbol, year, materials, weakestLink } = data;
  return {
    symbol,
    year,
    materials,
    reason: datingReason(data),
    weakestLink: { kind: weakestLink.kind, text: linkText(weakestLink, data) },
  };
}

function datingReason({ symbol, year, materials, oldest }: DatingData): string {
  const known = `${within(oldest)}, known from about ${yearText(year)}`;
  const first =
    materials.length === 1
      ? `The only allowed material with ${symbol} is ${known}`
      : `The oldest of the ${counted(materials.length, 'allowed material')} with ${symbol} is ${known}`;
  return `${first}; later additions and unlisted materials are not ruled out.`;
}

const SOURCES: Readonly<Record<Trust, string>> = {
  high: 'agree',
  medium: 'differ by decades',
  low: 'are few or disagree',
  none: 'are few or disagree',
};

function linkText(link: WeakestLink, { symbol, oldest }: DatingData): string {
  switch (link.kind) {
    case 'element':
      return `that ${symbol} is there at all (probability ${probabilityText(link.probability)})`;
    case 'date':
      return `the first use of ${within(oldest)}, on which sources ${SOURCES[link.trust]}`;
    case 'trace':
      return `that so little ${symbol} belongs to the paint: dirt, a neighbouring grain or an impurity would bring it too`;
    case 'few-materials':
      return `that only ${within(oldest)} brings ${symbol}: natural admixtures and unlisted materials could bring it earlier`;
    case 'knowledge':
      return `that no older material with ${symbol} is missing from the list`;
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
        'Is it a reused or older layer, old stock or a revival, or is it misread?',
    };
  }
  const misread = data.rival ? ` (for ${rivalName(data.rival)})` : '';
  return {
    subject,
    kind,
    years,
    question:
      `${subject} goes with materials known from about ${yearText(known)}; the stated year is ${told}. ` +
      `Is this a restoration or later addition, is the year wrong, or is ${subject} misread${misread}? ` +
      `Weakest link: ${linkText(data.argument.weakestLink, data.argument)}.`,
  };
}

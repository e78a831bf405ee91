import { DATING_FROM, type LimnerRecord, yearText } from '@limner/core';
import { h } from '../dom.ts';

const MOST_SHOWN = 3;

/** The argument on the earliest date with its weakest link, and what does not go with a stated date, as questions. */
export function datingSection({ dating, statedDate }: LimnerRecord): HTMLElement | null {
  const told = dating.filter(({ year }) => year >= DATING_FROM).slice(0, MOST_SHOWN);
  const questions = statedDate?.questions ?? [];
  if (told.length === 0 && questions.length === 0) return null;
  return h(
    'section',
    { class: 'dating', 'aria-labelledby': 'dating' },
    h('h2', { id: 'dating' }, 'Earliest date: an argument, no proof'),
    h(
      'ul',
      {},
      told.map(({ symbol, year, reason, weakestLink }) =>
        h('li', {}, `${symbol}: not before about ${yearText(year)}. ${reason} Weakest link: ${weakestLink.text}.`),
      ),
    ),
    questions.length > 0 && statedDate
      ? h(
          'div',
          {},
          h('h3', {}, `Questions, for an object said to be of ${yearText(statedDate.year)}`),
          h(
            'ul',
            {},
            questions.map(({ question }) => h('li', {}, question)),
          ),
        )
      : null,
  );
}

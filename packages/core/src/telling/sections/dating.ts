import type { LimnerRecord } from '../../record/record.ts';
import { DATING_FROM, MOST_DATES } from '../terms/cutoffs.ts';
import { yearText } from '../terms/numerals.ts';
import { item, list, type Node, paragraph, section } from './tree.ts';

/** What the explanations say about the earliest possible date of the grain. */
export function dating({ dating: found }: LimnerRecord): Node | null {
  const items = found
    .filter(({ year }) => year >= DATING_FROM)
    .slice(0, MOST_DATES)
    .map(({ year, reason, weakestLink }, i) =>
      item(`date-${year}`, `${reason} Weakest link: ${weakestLink.text}.`, i === 0 ? 'brief' : 'full'),
    );
  return section('dating', 'Earliest date: an argument, not proof', [list('date-list', items)]);
}

/** Anachronisms for the stated year, as questions. */
export function statedYear({ statedDate }: LimnerRecord): Node | null {
  if (!statedDate) return null;
  const { year, questions } = statedDate;
  return section('stated-year', `Stated year ${yearText(year)}`, [
    list(
      'anachronisms',
      questions.map(({ kind, question }, i) => item(`anachronism-${kind}-${i + 1}`, question)),
    ),
    questions.length === 0 ? paragraph('no-anachronism', 'No anachronism was found.') : null,
  ]);
}

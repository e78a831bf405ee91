import {
  type ElementRatio,
  expectedText,
  type LimnerRecord,
  ratiosWorthTelling,
  ratioName,
  ratioValue,
} from '@limner/core';
import { h } from '../dom.ts';
import { listed } from '../format.ts';
import { table } from './ledger.ts';

const MOST_SHOWN = 8;
const MOST_MATERIALS = 2;

const SAYS = { within: 'agrees', above: 'above', below: 'below', 'limit only': 'nothing against it' } as const;

/** Ratios of elements by which the trade knows the materials that fit best, measured and expected. */
export function ratiosSection(record: LimnerRecord): HTMLElement | null {
  const ratios = ratiosWorthTelling(record).slice(0, MOST_SHOWN);
  if (ratios.length === 0) return null;
  const names = new Map(record.pigments.map(({ id, name }) => [id, name]));
  const sources = [...new Set(ratios.flatMap(({ source }) => source))];
  return h(
    'section',
    { class: 'ratios', 'aria-labelledby': 'ratios' },
    h('h2', { id: 'ratios' }, 'Ratios of elements'),
    h(
      'p',
      { class: 'lead-in' },
      'By atoms. The uncertainty holds counting and physics: without standards it is seldom below 15 %.',
    ),
    table(
      'Ratios of elements',
      ['Ratio', 'Measured', 'Expected', 'In', 'Says'],
      ratios.map((ratio) => [
        ratioName(ratio),
        ratioValue(ratio),
        expectedText(ratio),
        namesOf(ratio.materials, names),
        saying(ratio, names),
      ]),
    ),
    h('p', { class: 'lead-in source' }, `Expected values from: ${sources.join('. ')}.`),
  );
}

function saying({ agrees, tells, alsoIn }: ElementRatio, names: ReadonlyMap<string, string>): string {
  const off = agrees === 'above' || agrees === 'below';
  const also = alsoIn.length > 0 ? `; some of it may be ${namesOf(alsoIn, names)}` : '';
  return SAYS[agrees] + (off ? `: ${tells}` : '') + also;
}

function namesOf(materials: readonly string[], names: ReadonlyMap<string, string>): string {
  const all = materials.map((id) => names.get(id) ?? id);
  const more = all.length - MOST_MATERIALS;
  return listed(more > 0 ? [...all.slice(0, MOST_MATERIALS), `${more} more`] : all);
}

import type { ElementRatio } from '../../pigments/ratios.ts';
import type { LimnerRecord } from '../../record/record.ts';
import { LEAST_OF_BEST, MOST_IN_RATIO, MOST_RATIOS } from '../terms/cutoffs.ts';
import { within } from '../terms/names.ts';
import { listedUpTo, measured, significant, trimmed } from '../terms/numerals.ts';
import { cell, column, type Node, paragraph, type Row, row, section, table } from './tree.ts';

const COLUMNS = [
  column('ratio', 'ratio'),
  column('measured', 'measured', 'right'),
  column('expected', 'expected', 'right'),
  column('materials', 'in'),
  column('says', 'says'),
];

/** The ratios of the materials that fit best: measured, expected, and what it means where they disagree. */
export function ratios(record: LimnerRecord): Node | null {
  const told = ratiosWorthTelling(record).slice(0, MOST_RATIOS);
  if (told.length === 0) return null;
  const names = new Map(record.pigments.map(({ id, name }) => [id, name]));
  const sources = [...new Set(told.flatMap(({ source }) => source))];
  return section(
    'ratios',
    'Ratios of elements, by atoms',
    [
      table(
        'ratio-table',
        'Ratios of elements, measured and expected',
        COLUMNS,
        told.map((one) => ratioRow(one, names)),
        'full',
      ),
      paragraph(
        'ratio-note',
        'Uncertainties include counting and physics; without standards they are seldom below 15\u00a0%.',
        'full',
        'note',
      ),
      paragraph('ratio-sources', `Expected values from: ${sources.join('. ')}.`, 'full', 'note'),
    ],
    'full',
  );
}

/** Ratios of the materials that fit best, measured ones before mere limits. */
export function ratiosWorthTelling({ ratios: all, pigments }: LimnerRecord): ElementRatio[] {
  const best = pigments[0]?.score ?? 0;
  const worthy = new Set(
    pigments
      .filter(({ standing, score }) => standing === 'allowed' && score >= LEAST_OF_BEST * best)
      .map(({ id }) => id),
  );
  const told = all.filter(({ materials }) => materials.some((id) => worthy.has(id)));
  return [...told.filter(({ value }) => value !== null), ...told.filter(({ value }) => value === null)];
}

function ratioRow(ratio: ElementRatio, names: ReadonlyMap<string, string>): Row {
  return row(
    `ratio-${ratio.id}`,
    [
      cell(ratioName(ratio)),
      cell(ratioValue(ratio), ratio.value?.value ?? ratio.limit?.ratio ?? null),
      cell(expectedText(ratio), ratio.expected.low),
      cell(materialNames(ratio.materials, names)),
      cell(saying(ratio, names)),
    ],
    'full',
  );
}

const SAYS: Readonly<Record<ElementRatio['agrees'], string>> = {
  within: 'agrees',
  above: 'above',
  below: 'below',
  'limit only': 'nothing against it',
};

function saying({ agrees, tells, alsoIn }: ElementRatio, names: ReadonlyMap<string, string>): string {
  const off = agrees === 'above' || agrees === 'below';
  const also = alsoIn.length > 0 ? `; part of it may be ${materialNames(alsoIn, names)}` : '';
  return SAYS[agrees] + (off ? `: ${tells}` : '') + also;
}

const materialNames = (ids: readonly string[], names: ReadonlyMap<string, string>): string =>
  listedUpTo(
    MOST_IN_RATIO,
    ids.map((id) => within(names.get(id) ?? id)),
  );

/** 'Sn/Pb', '(Cd+Zn)/S' */
export function ratioName({ numerator, denominator }: ElementRatio): string {
  const side = (symbols: readonly string[]): string => (symbols.length > 1 ? `(${symbols.join('+')})` : symbols.join());
  return `${side(numerator)}/${side(denominator)}`;
}

/** '0.52 ± 0.21', 'at most 0.03' */
export function ratioValue({ value, limit }: ElementRatio): string {
  if (value !== null) return measured(value);
  return limit === null ? '' : `${limit.side.replace('-', ' ')} ${significant(limit.ratio, 2)}`;
}

/** '0.5', '1.67 to 1.8' */
export function expectedText({ expected: { low, high } }: ElementRatio): string {
  const ends = [...new Set([trimmed(low, 3), trimmed(high, 3)])];
  return ends.join(' to ');
}

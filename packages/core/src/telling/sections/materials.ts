import { PRIORS } from '../../pigments/priors.ts';
import type { PigmentStanding } from '../../pigments/standing.ts';
import type { LimnerRecord } from '../../record/record.ts';
import { LEAST_OF_BEST, MOST_CANDIDATES } from '../terms/cutoffs.ts';
import { shortName, within } from '../terms/names.ts';
import { capital, fixed, listed, measured, yearText } from '../terms/numerals.ts';
import {
  cell,
  column,
  item,
  type Length,
  list,
  type Node,
  paragraph,
  type Row,
  row,
  section,
  spareColumn,
  table,
} from './tree.ts';
import { alikeText } from './answer.ts';
import { decided } from './open.ts';

const COLUMNS = [
  column('material', 'material'),
  column('fit', 'fit', 'right'),
  column('massFraction', '%\u00a0by mass', 'right'),
  column('use', 'in use'),
  spareColumn('kind', 'kind', 'left', 'full'),
  spareColumn('formula', 'formula', 'left', 'full'),
];

/** The materials that the elements allow, best first, and those they rule out. */
export function materials(record: LimnerRecord): Node | null {
  const allowed = allowedOf(record);
  if (allowed.length === 0)
    return section('materials', 'Materials', [
      paragraph('no-materials', 'The elements fit none of the materials known to Limner.'),
      ruledOut(record),
    ]);
  const heads = candidatesOf(record);
  const names = new Map(allowed.map(({ id, name }) => [id, name]));
  const rest = allowed.filter((one) => !heads.includes(one));
  const few = record.explanations[0]?.parts.length === 0 ? 0 : MOST_CANDIDATES.brief;
  const rows = [
    ...heads.map((head, i) => materialRow(head, names, i < few ? 'brief' : 'full')),
    ...rest.map((one) => materialRow(one, names, 'full', one.reason)),
  ];
  return section('materials', 'Materials that the elements allow: candidates, not findings', [
    table('material-table', 'Materials that the elements allow, best first', COLUMNS, rows),
    paragraph(
      'fit-note',
      'Fit: the share of the weight of all explanations that goes to those with this material or a look-alike.',
      'full',
      'note',
    ),
    grain(record),
    priors(),
    ruledOut(record),
  ]);
}

/** The constants behind the weights of explanations. */
function priors(): Node {
  const columns = [column('constant', 'prior judgement'), column('value', 'ln odds, unless stated', 'right')];
  const rows = Object.entries(PRIORS).map(([name, { value, reason }]) =>
    row(`prior-${name}`, [cell(reason), cell(String(value), value)], 'full'),
  );
  return section(
    'priors',
    'What the weights assume',
    [
      paragraph(
        'priors-note',
        'The weight of an explanation is the likelihood of the measured amounts times these odds, which are judgements.',
        'full',
        'note',
      ),
      table('prior-table', 'Prior odds of materials and of their combinations', columns, rows),
    ],
    'full',
  )!;
}

const allowedOf = ({ pigments }: LimnerRecord): PigmentStanding[] =>
  pigments.filter(({ standing }) => standing === 'allowed');

/** The best of each group of look-alikes that fits well. */
export function candidatesOf(record: LimnerRecord): PigmentStanding[] {
  const allowed = allowedOf(record);
  const told = new Set<string>();
  const heads = allowed
    .filter(({ score }) => score >= LEAST_OF_BEST * allowed[0].score)
    .filter(({ id, lookalikes }) => {
      const fresh = !told.has(id);
      if (fresh) for (const name of [id, ...lookalikes]) told.add(name);
      return fresh;
    });
  return heads.slice(0, MOST_CANDIDATES.full);
}

function materialRow(
  material: PigmentStanding,
  names: ReadonlyMap<string, string>,
  length: Length,
  text = [...argument(material, names)].join(' '),
): Row {
  const { id, name, formula, score, massFraction, class: kind, hue } = material;
  return row(
    `material-${id}`,
    [
      cell(name),
      cell(fixed(score, 2), score),
      massFraction ? cell(measured(massFraction, 100), 100 * massFraction.value) : cell(''),
      cell(years(material), material.earliestUse),
      cell([...new Set([kind, hue])].filter((word) => word && word !== 'none').join(', ')),
      cell(formula.replaceAll(' %', '\u00a0%')),
    ],
    length,
    [paragraph(`why-${id}`, text, 'full')],
  );
}

function* argument(material: PigmentStanding, names: ReadonlyMap<string, string>): Generator<string> {
  const { id, name, reason, lookalikes, hazard } = material;
  const alike = lookalikes.flatMap((other) => {
    const known = names.get(other);
    return known === undefined ? [] : [{ id: other, name: known, share: 1 }];
  });
  yield reason;
  if (alike.length > 0) {
    const told = alike.map((other) => other.name);
    yield `Elements alone cannot tell it from ${alikeText(told, 'full')}. ${decided(material, [{ id, name, share: 1 }, ...alike])}`;
  }
  if (hazard && hazard !== 'none') yield `Hazard: ${hazard}.`;
}

/** Other explanations of the whole grain. */
function grain({ explanations }: LimnerRecord): Node | null {
  if (explanations.length < 2) return null;
  const items = explanations.map(({ name, score, parts, leftOver }, i) => {
    const shares = parts.map((part) => `${shortName(within(part.name))} ${measured(part.massFraction, 100)}\u00a0%`);
    const over = leftOver.length > 0 ? ` It leaves ${listed(leftOver.map(({ symbol }) => symbol))} unexplained.` : '';
    return item(`grain-${i + 1}`, `fit ${fixed(score, 2)}: ${listed(shares) || name}.${over}`, 'full', `${name},`);
  });
  return section('grains', 'Explanations of the whole grain', [list('grain-list', items, 'full')], 'full');
}

/** All that is ruled out, each with the reason; first those of which most required elements are present. */
function ruledOut({ pigments, elements }: LimnerRecord): Node | null {
  const present = new Set(elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol));
  const nearness = ({ required }: PigmentStanding): number => {
    const heavy = required.filter((symbol) => symbol !== 'C' && symbol !== 'O');
    return heavy.filter((symbol) => present.has(symbol)).length / Math.max(1, heavy.length);
  };
  const items = pigments
    .filter(({ standing }) => standing === 'ruled-out')
    .map((pigment) => ({ pigment, near: nearness(pigment) }))
    .sort((a, b) => b.near - a.near || (a.pigment.id < b.pigment.id ? -1 : 1))
    .map(({ pigment: { id, name, reason } }) => item(`ruled-out-${id}`, reason, 'full', `${capital(name)}:`));
  return section(
    'ruled-out',
    `Ruled out: ${items.length}, nearest first`,
    [list('ruled-out-list', items, 'full')],
    'full',
  );
}

/** 'from about 1300 to 1750'; empty where no date makes sense. */
export function years({ earliestUse, latestUse }: Pick<PigmentStanding, 'earliestUse' | 'latestUse'>): string {
  if (earliestUse === null && latestUse === null) return '';
  if (latestUse === null) return `from about ${yearText(earliestUse!)}`;
  if (earliestUse === null) return `until about ${yearText(latestUse)}`;
  return `from about ${yearText(earliestUse)} to ${yearText(latestUse)}`;
}

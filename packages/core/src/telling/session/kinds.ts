// Words on alike spectra of a session.

import type { Kind, Kinds, Outlier } from '../../kinds/kinds.ts';
import { cell, column, type Node, paragraph, section, row, table } from '../sections/tree.ts';
import { MOST_OUTLIERS } from '../terms/cutoffs.ts';
import { counted, fixed, significant } from '../terms/numerals.ts';
import { linesSection } from './report.ts';

const COLUMNS = [
  column('kind', 'Kind', 'right'),
  column('elements', 'Elements'),
  column('spectra', 'Spectra', 'right'),
  column('shares', '% by mass'),
  column('best', 'Best fit for most'),
  column('representative', 'Representative'),
];

/** The kinds, a representative of each, and spectra unlike any other. */
export function kindsSection({ kinds, outliers, also }: Kinds): Node | null {
  if (kinds.length === 0) return null;
  const grouped = kinds.reduce((total, { members }) => total + members.length, 0);
  const more = outliers.length - MOST_OUTLIERS;
  return section('kinds', `Similar spectra: ${fixed(grouped, 0)} in ${counted(kinds.length, 'kind')}`, [
    table('kind-table', 'Kinds of similar spectra', COLUMNS, kinds.map(kindRow)),
    linesSection('outliers', 'Unlike any other', [
      ...outliers.slice(0, MOST_OUTLIERS).map(outlierText),
      ...(more > 0 ? [`and ${fixed(more, 0)} more, in kinds.csv`] : []),
    ]),
    paragraph(
      'kinds-note',
      'Spectra are similar when no element’s share differs by more than three standard uncertainties, grain-to-grain scatter included; ' +
        `the medium and the mounting are left out. ${alsoText(also.size)} also belong to another kind (kind-members.csv).`,
      'brief',
      'note',
    ),
  ]);
}

const alsoText = (count: number): string =>
  count === 0 ? 'None of them could' : `With so few counts, ${fixed(count, 0)} of them could`;

const kindRow = ({ number, name, members, representative, elements, best }: Kind) =>
  row(`kind-${number}`, [
    cell(fixed(number, 0), number),
    cell(name),
    cell(fixed(members.length, 0), members.length),
    cell(sharesText(elements)),
    cell(best ? `${best.material.name} (${fixed(best.spectra, 0)}/${fixed(members.length, 0)})` : ''),
    cell(representative.file),
  ]);

/** 'Pb 78 Sn 22', in per cent of the mass without the medium. */
export const sharesText = (elements: Kind['elements']): string =>
  elements.map(({ symbol, share }) => `${symbol} ${significant(100 * share, 2)}`).join(' ');

/** A kind as a list to choose from names it. @param spectra their number */
export const kindChoice = (name: string, spectra: number): string => `${name} (${fixed(spectra, 0)})`;
/** What that list calls spectra of no kind. */
export const UNLIKE = 'unlike any other';

function outlierText({ member: { file, composition }, closest }: Outlier): string {
  const seen = composition.seen.join(' ') || 'no element but those of the medium';
  if (closest === null) return `${file}: ${seen}`;
  const { kind, difference } = closest;
  const what = difference.symbol === null ? 'the share of the medium' : difference.symbol;
  const by = Number.isFinite(difference.sigmas) ? ` by ${fixed(difference.sigmas, 1)} standard uncertainties` : '';
  return `${file}: ${seen}; closest to kind ${fixed(kind.number, 0)} (${kind.name}), but ${what} differs${by}`;
}

import { fixed, type Kinds, type Outlier } from '@limner/core';
import { sharesText } from '../summary/kind-shares.ts';
import { cell, listOf, row, table } from './report-parts.ts';

/** Of more outliers than this, the page names the first; kinds.csv has all. */
const MOST_OUTLIERS = 100;

/** The report's section on alike spectra: the kinds, a representative of each, and spectra unlike any other. */
export function kindsSection({ kinds, outliers, also }: Kinds): string {
  if (kinds.length === 0) return '';
  const grouped = kinds.reduce((total, { members }) => total + members.length, 0);
  const rows = kinds.map(({ number, name, members, representative, elements, best }) =>
    row([
      cell(String(number), 'number'),
      cell(name),
      cell(String(members.length), 'number'),
      cell(sharesText(elements)),
      cell(best ? `${best.material.name} (${best.spectra}/${members.length})` : ''),
      cell(representative.file),
    ]),
  );
  const headings = ['Kind', 'Elements', 'Spectra', '% by mass', 'Best fit for most', 'Representative'];
  const more = outliers.length - MOST_OUTLIERS;
  return [
    `<h2>Alike: ${grouped} spectra in ${kinds.length} ${kinds.length === 1 ? 'kind' : 'kinds'}</h2>`,
    table(headings, rows),
    listOf('Unlike any other', [
      ...outliers.slice(0, MOST_OUTLIERS).map(outlierText),
      ...(more > 0 ? [`and ${more} more, in kinds.csv`] : []),
    ]),
    '<p class="quiet">Spectra are alike when no element’s share differs by more than three standard uncertainties, grain-to-grain scatter included; medium and mounting are left out. ',
    `${also.size === 0 ? 'None of them could' : `With so few counts, ${also.size} of them could`} also belong to another kind (kind-members.csv).</p>`,
  ].join('\n');
}

function outlierText({ member: { file, composition }, closest }: Outlier): string {
  const seen = composition.seen.join(' ') || 'no element but those of the medium';
  if (closest === null) return `${file}: ${seen}`;
  const { kind, difference } = closest;
  const what = difference.symbol === null ? 'the share of the medium' : difference.symbol;
  const by = Number.isFinite(difference.sigmas) ? ` by ${fixed(difference.sigmas, 1)} standard uncertainties` : '';
  return `${file}: ${seen}; closest to kind ${kind.number} (${kind.name}), but ${what} differs${by}`;
}

import { type Kinds, sharesText } from '@limner/core';
import { csv } from '../input/csv.ts';

export const KIND_HEADING = csv([
  ['kind', 'name', 'spectra', 'representative', 'elements', 'material_id', 'material', 'spectra_with_material'],
]);
export const KIND_MEMBER_HEADING = csv([['file', 'kind', 'also', 'representative']]);

/** The rows of kinds.csv: a row for each kind, largest first, then one without a number for each spectrum unlike any other. */
export function kindRows({ kinds, outliers }: Kinds): string {
  return csv([
    ...kinds.map(({ number, name, members, representative, elements, best }) => [
      number,
      name,
      members.length,
      representative.file,
      sharesText(elements),
      best && best.material.id,
      best && best.material.name,
      best && best.spectra,
    ]),
    ...outliers.map(({ member: { file, composition, best } }) => {
      const seen = composition.seen.join(' ');
      return [null, seen, 1, file, seen, best && best.id, best && best.name, best && 1];
    }),
  ]);
}

/** The rows of kind-members.csv: the kind of each spectrum, by file; no number for spectra unlike any other. */
export function kindMemberRows({ kinds, outliers, also }: Kinds): string {
  const grouped = kinds.flatMap(({ number, members, representative }) =>
    members.map(({ file }) => ({ file, number, representative: representative.file })),
  );
  const alone = outliers.map(({ member: { file } }) => ({ file, number: null, representative: file }));
  const rows = [...grouped, ...alone].sort((a, b) => (a.file < b.file ? -1 : 1));
  return csv(
    rows.map(({ file, number, representative }) => [file, number, (also.get(file) ?? []).join(' '), representative]),
  );
}

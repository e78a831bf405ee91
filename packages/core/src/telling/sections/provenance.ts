import type { LimnerRecord } from '../../record/record.ts';
import { counted, measured } from '../terms/numerals.ts';
import { changesTold } from '../words/changes.ts';
import { cell, column, type Node, row, section, table } from './tree.ts';

/** What the reading rests on: file, software, data, what the session told of the instrument, header. */
export function provenance(record: LimnerRecord): Node | null {
  const { source, software, ownMaterials, axis } = record;
  const rows: readonly (readonly [id: string, name: string, value: string])[] = [
    ['file', 'file', source.name],
    ['sha256', 'SHA-256', source.sha256],
    ['software', 'Limner', software.version],
    ['data', 'data', `atomic ${software.atomicData}, materials ${software.pigmentData}`],
    ...(ownMaterials
      ? [
          [
            'own',
            'own materials',
            `${ownMaterials.file}, ${counted(ownMaterials.entries, 'entry', 'entries')}, SHA-256 ${ownMaterials.sha256}`,
          ] as const,
        ]
      : []),
    ...(record.changes
      ? [
          [
            'changes',
            'changed in the page',
            changesTold(record.changes)
              .map(({ text }) => text)
              .join('; '),
          ] as const,
        ]
      : []),
    ...(axis.shared?.lessons ?? []).map(
      ({ quantity, by, before, after }, i) =>
        [
          `lesson-${i + 1}`,
          quantity,
          `${measured({ value: after.mean, sigma: after.sigma })}, before ${measured({ value: before.mean, sigma: before.sigma })}; by ${by.join(', ')}`,
        ] as const,
    ),
  ];
  return section(
    'provenance',
    'Provenance',
    [
      table(
        'provenance-table',
        'Provenance of the reading',
        [column('name', ''), column('value', '')],
        rows.map(([id, name, value]) => row(`from-${id}`, [cell(name), cell(value)], 'full')),
        'full',
      ),
      table(
        'header-table',
        'Header of the file',
        [column('key', 'keyword'), column('unit', 'unit'), column('value', 'value')],
        record.header.map(({ key, unit, value }, i) =>
          row(`header-${i + 1}`, [cell(key), cell(unit), cell(value)], 'full'),
        ),
        'full',
      ),
    ],
    'full',
  );
}

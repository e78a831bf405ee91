import type { LimnerRecord } from '../../record/record.ts';
import { item, list, type Node, section } from './tree.ts';
import { isOwnCaution } from '../words/cautions.ts';
import { lowersTrust } from '../words/warnings.ts';

/** Warnings, those that lower the trust in the reading first; the others only say how the file was read. */
export function warnings(record: LimnerRecord): Node | null {
  const ordered = [...record.warnings.filter(lowersTrust), ...record.warnings.filter((one) => !lowersTrust(one))];
  return section('warnings', 'Warnings', [
    list(
      'warning-list',
      ordered.map((warning) => item(`warning-${warning.code}`, warning.text, lowersTrust(warning) ? 'brief' : 'full')),
    ),
  ]);
}

/** Cautions about what was found are brief; those that always hold are told in full. */
export function cautions({ cautions: texts }: LimnerRecord): Node | null {
  return section('cautions', 'Cautions', [
    list(
      'caution-list',
      texts.map((text, i) => item(`caution-${i + 1}`, text, isOwnCaution(text) ? 'brief' : 'full')),
    ),
  ]);
}

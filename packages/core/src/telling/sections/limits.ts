import { MATERIALS } from '../../pigments/knowledge.ts';
import type { ElementFinding } from '../../identify/finding.ts';
import type { LimnerRecord } from '../../record/record.ts';
import { percent } from '../terms/numerals.ts';
import { couldHide } from './hidden.ts';
import { item, list, type Node, paragraph, section } from './tree.ts';
import { elementCount, findingsWith } from './answer.ts';

/** What the spectrum does not show, with the limit, and what it cannot show; first what most known materials need. */
export function limits(record: LimnerRecord): Node | null {
  const unseen = byUse(findingsWith(record, 'not-seen'));
  const items = unseen.map(({ symbol, limit }) =>
    item(`limit-${symbol}`, limit ? `<\u00a0${percent(limit.massFraction)}` : '', 'full', symbol),
  );
  const hidden = couldHide(record);
  return section('limits', 'Not seen', [
    paragraph('could-hide', hidden.most),
    paragraph('could-hide-too', hidden.rest, 'full'),
    unseen.length > 0
      ? paragraph(
          'limits-note',
          `${elementCount(unseen)} not seen, each with the smallest mass fraction that would show:`,
          'full',
          'note',
        )
      : null,
    list('limit-list', items, 'full', 'run-in'),
    ...blind(byUse(findingsWith(record, 'blind'))),
  ]);
}

/** Elements that this spectrum cannot tell, by reason. */
function blind(findings: readonly ElementFinding[]): (Node | null)[] {
  const reasons = [...new Set(findings.map(({ reason }) => reason))];
  return reasons.flatMap((reason, i) => [
    paragraph(`blind-note-${i + 1}`, `This spectrum is blind to these elements. ${reason}`, 'full', 'note'),
    list(
      `blind-list-${i + 1}`,
      findings.filter((one) => one.reason === reason).map(({ symbol }) => item(`blind-${symbol}`, '', 'full', symbol)),
      'full',
      'run-in',
    ),
  ]);
}

function byUse(findings: readonly ElementFinding[]): ElementFinding[] {
  const asked = new Map<string, number>();
  for (const { required } of MATERIALS) for (const symbol of required) asked.set(symbol, (asked.get(symbol) ?? 0) + 1);
  const weight = ({ symbol }: ElementFinding): number => asked.get(symbol) ?? 0;
  return [...findings].sort((a, b) => weight(b) - weight(a) || a.z - b.z);
}

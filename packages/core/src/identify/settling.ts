import { sumOver } from '../arithmetic/sum.ts';
import { symbolOf } from '../atomic/elements.ts';
import { addScaled } from '../model/column.ts';
import { differingLines } from './differing-lines.ts';
import type { SettlingLine } from './finding.ts';
import type { LeaveOneOut } from './leave-one-out.ts';
import { strongestLine } from './lines.ts';
import type { Frame, Round } from './state.ts';

/**
 * Lines that tell an element from what would stand in its place: counts within one FWHM around each line group,
 * above what both explanations share, as expected under each and as observed.
 */
export function settlingLines(frame: Frame, round: Round, leaveOut: LeaveOneOut): SettlingLine[] {
  const { areas, layout } = round.design;
  const involved = [leaveOut.element, ...leaveOut.added];
  const shared = round.model.slice();
  for (const e of involved) addScaled(shared, layout.templates[e].column, -round.hypothesis.x[e]);
  const zs = involved.map((e) => layout.templates[e].z);
  const differing = differingLines(zs, areas, round.instrument, frame.range, round.model, leaveOut.expectedInstead);
  const out: SettlingLine[] = [];
  for (const { group, from, to, first, second } of differing) {
    const base = sumOver(shared, from, to);
    const line = strongestLine(group.lines, areas);
    out.push({
      symbol: symbolOf(group.z),
      line: line.iupac,
      energyEv: line.energyEv,
      expectedWith: first - base,
      expectedInstead: second - base,
      observed: sumOver(frame.counts, from, to) - base,
      sigma: Math.sqrt(Math.max(first, 1)),
    });
  }
  return out;
}

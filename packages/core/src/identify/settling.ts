import { symbolOf } from '../atomic/elements.ts';
import { addScaled } from '../model/column.ts';
import { FWHM_PER_SIGMA } from '../detector/resolution.ts';
import { lineResponse } from '../model/instrument.ts';
import { groupTemplates } from '../model/templates.ts';
import type { SettlingLine } from './finding.ts';
import type { Frame, Round } from './state.ts';
import type { LeaveOneOut } from './leave-one-out.ts';
import { strongestLine } from './lines.ts';

/** Most settling lines told per rival. */
const MOST = 4;
/** A line tells two explanations apart when they differ there by this many standard deviations of the counts. */
const TELLING = 1.5;

/**
 * Lines that tell an element from what would stand in its place: counts within one FWHM around each line group,
 * above what both explanations share, as expected under each and as observed.
 */
export function settlingLines(frame: Frame, round: Round, leaveOut: LeaveOneOut): SettlingLine[] {
  const { counts, range } = frame;
  const n = counts.length;
  const { expectedInstead: instead } = leaveOut;
  const involved = [leaveOut.element, ...leaveOut.added];
  const shared = round.model.slice();
  for (const e of involved) addScaled(shared, round.design.layout.templates[e].column, -round.hypothesis.x[e]);
  const lines: { readonly weight: number; readonly told: SettlingLine }[] = [];
  for (const e of involved) {
    const { z } = round.design.layout.templates[e];
    for (const { group, energyEv } of groupTemplates(z, round.design.areas, round.instrument, n)) {
      const { axis } = round.instrument;
      const half = (lineResponse(round.instrument, energyEv).sigmaEv * FWHM_PER_SIGMA) / 2;
      const from = Math.max(range.lo, Math.round((energyEv - half - axis.offsetEv) / axis.gainEv));
      const to = Math.min(range.hi, Math.round((energyEv + half - axis.offsetEv) / axis.gainEv) + 1);
      if (to - from < 2) continue;
      let data = 0;
      let base = 0;
      let withIt = 0;
      let withoutIt = 0;
      for (let i = from; i < to; i++) {
        data += counts[i];
        base += shared[i];
        withIt += round.model[i];
        withoutIt += instead[i];
      }
      const sigma = Math.sqrt(Math.max(withIt, 1));
      const weight = Math.abs(withIt - withoutIt) / sigma;
      if (weight < TELLING) continue;
      const line = strongestLine(group.lines, round.design.areas);
      lines.push({
        weight,
        told: {
          symbol: symbolOf(z),
          line: line.iupac,
          energyEv: line.energyEv,
          expectedWith: withIt - base,
          expectedInstead: withoutIt - base,
          observed: data - base,
          sigma,
        },
      });
    }
  }
  lines.sort((a, b) => b.weight - a.weight || a.told.energyEv - b.told.energyEv);
  return lines.slice(0, MOST).map(({ told }) => told);
}

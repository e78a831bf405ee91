import type { Finding } from '../identify/finding.ts';
import { ELEMENT_HAZARDS, type ElementHazard } from './knowledge.ts';

/** An open element is likely from here: more likely there than not. */
const LIKELY = 0.5;

/** The usual laboratory hazards of the elements that are present or likely, in an amount that counts. */
export function hazardsOf(
  findings: readonly Pick<Finding, 'symbol' | 'verdict' | 'probability' | 'massFraction'>[],
): ElementHazard[] {
  return ELEMENT_HAZARDS.filter(({ element, fromPercent }) => {
    const found = findings.find(({ symbol }) => symbol === element);
    if (found === undefined) return false;
    const { verdict, probability, massFraction } = found;
    const likely = verdict === 'present' || (verdict === 'open' && probability > LIKELY);
    return likely && (massFraction === null || 100 * massFraction.value >= fromPercent);
  });
}

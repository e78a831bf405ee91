import type { Finding } from '../identify/finding.ts';
import { ELEMENT_HAZARDS, type ElementHazard } from './knowledge.ts';

/** An open element is likely from here: more likely there than not. */
const LIKELY = 0.5;

/** The usual laboratory hazards of the elements that are present or likely. */
export function hazardsOf(findings: readonly Pick<Finding, 'symbol' | 'verdict' | 'probability'>[]): ElementHazard[] {
  const seen = new Set(
    findings
      .filter(({ verdict, probability }) => verdict === 'present' || (verdict === 'open' && probability > LIKELY))
      .map(({ symbol }) => symbol),
  );
  return ELEMENT_HAZARDS.filter(({ element }) => seen.has(element));
}

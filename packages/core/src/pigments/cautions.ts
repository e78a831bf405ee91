import type { Finding } from '../identify/finding.ts';
import { ELEMENT_HAZARDS, type ElementHazard } from './knowledge.ts';

/** The usual laboratory hazards of the elements present or open. */
export function hazardsOf(findings: readonly Pick<Finding, 'symbol' | 'verdict'>[]): ElementHazard[] {
  const seen = new Set(
    findings.filter(({ verdict }) => verdict === 'present' || verdict === 'open').map(({ symbol }) => symbol),
  );
  return ELEMENT_HAZARDS.filter(({ element }) => seen.has(element));
}

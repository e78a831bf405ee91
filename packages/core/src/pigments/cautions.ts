import type { ElementFinding } from '../identify/finding.ts';
import { ELEMENT_HAZARDS } from './knowledge.ts';

/** Cautions every reading carries, whatever was found. */
const ALWAYS: readonly string[] = [
  'The sample is one of a kind: keep it and its mounting, and plan every further step before it is used up.',
  'Elements are evidence for a material, never proof: confirm with a second technique before it is stated or acted upon.',
  'Local safety rules and qualified colleagues decide how the sample and the X-ray equipment are handled.',
];

/** The usual laboratory cautions for the elements present or open, then those that always hold. */
export function cautionsFor(findings: readonly ElementFinding[]): string[] {
  const seen = new Set(
    findings.filter(({ verdict }) => verdict === 'present' || verdict === 'open').map(({ symbol }) => symbol),
  );
  return [...ELEMENT_HAZARDS.filter(({ element }) => seen.has(element)).map(({ caution }) => caution), ...ALWAYS];
}

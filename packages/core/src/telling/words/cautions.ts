import type { Observations } from '../../evidence/observations.ts';
import type { ElementFinding } from '../../identify/finding.ts';
import { hazardsOf } from '../../pigments/cautions.ts';

/** Cautions that every reading carries, whatever was found. */
const ALWAYS: readonly string[] = [
  'The sample cannot be replaced: keep it with its mounting, and plan each step before any of it is used up.',
  'Elements are evidence for a material, never proof: confirm with a second technique before you publish a result or act on it.',
  'Local safety rules and qualified colleagues decide how the sample and the X-ray equipment are handled.',
];

/** Where a microchemical test was made, or is to be believed. */
const MICROCHEMICAL =
  'A microchemical test uses up what it touches. Use acids and alkalis only on material that can be spared, in licensed practice, and never on a whole sample.';

/** The usual laboratory cautions for the elements present or likely and for what was tried, then those that always hold. */
export function cautionsFor(
  findings: readonly Pick<ElementFinding, 'symbol' | 'verdict' | 'probability' | 'massFraction'>[],
  seen: Observations | null = null,
): string[] {
  const tried = seen?.microchemistry === undefined ? [] : [MICROCHEMICAL];
  return [...hazardsOf(findings).map(({ caution }) => caution), ...tried, ...ALWAYS];
}

/** Whether a caution is about what was found, not one that always holds. */
export const isOwnCaution = (caution: string): boolean => !ALWAYS.includes(caution);

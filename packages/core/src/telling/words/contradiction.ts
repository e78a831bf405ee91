import { capital, percent, significant } from '../terms/numerals.ts';
import { elementName } from '../../atomic/elements.ts';
import type { AmountContradiction } from '../../fit/reference-layers.ts';

/** What contradicts the label of a known material. Mass fractions. */
export type ContradictionData =
  | { readonly kind: 'missing'; readonly z: number; readonly expected: number; readonly limit: number }
  | { readonly kind: 'foreign'; readonly z: number; readonly massFraction: number }
  | AmountContradiction;

/** What contradicts the label of a known material, as a sentence. */
export function contradictionText(data: ContradictionData): string {
  const name = elementName(data.z);
  switch (data.kind) {
    case 'missing':
      return `${capital(name)} is not seen: it should make up ${percent(data.expected)}, and as little as ${percent(data.limit)} would show.`;
    case 'foreign':
      return `${capital(name)} is present (about ${percent(data.massFraction)}) and should not be.`;
    case 'amount':
      return `There is ${significant(data.times, 2)} times as much ${name}, relative to the rest, as the label says.`;
  }
}

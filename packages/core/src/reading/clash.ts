import { clashAmong } from '../peaks/clash.ts';
import { KNOWN_CLASHES } from '../pigments/knowledge.ts';
import { overlapOf, type OverlapOptions } from '../plan/overlap.ts';
import type { ClashAnswer } from '../record/clash-answer.ts';

/**
 * Can a measurement tell elements apart whose lines may fall together?
 * @throws RangeError if a symbol is unknown or named twice, or an option makes no sense
 */
export function answerClash(elements: readonly string[], options: OverlapOptions = {}): ClashAnswer {
  const lines = clashAmong(elements, options);
  return {
    overlap: overlapOf(elements, options),
    lines,
    advice: KNOWN_CLASHES.filter(
      ({ elementA, elementB }) => elements.includes(elementA) && elements.includes(elementB),
    ),
  };
}

import { symbolOf, zOf } from '../atomic/elements.ts';
import { refitWithout } from '../fit/refit.ts';
import type { Explanation } from './explain.ts';
import { fittedInPlace, ownOf } from './refits.ts';

/** The counts as they would be expected without one element, everything else fitted anew: for drawing. */
export interface Alternative {
  /** Of the element that is left out. */
  readonly symbol: string;
  /** Expected counts per channel when nothing takes its place. */
  readonly without: Float64Array;
  /** With its best rival in its place; null where that is nothing. */
  readonly instead: { readonly name: string; readonly expected: Float64Array } | null;
}

/**
 * An element of an explanation left out, and its best rival put in its place, by maximum likelihood around the fit. What decides verdicts
 * spares these fits where the outcome is far from any threshold; a picture shows them all the same. Null for an element that is not in the fit.
 */
export function alternativeTo(explanation: Explanation, symbol: string): Alternative | null {
  const { frame, candidates, stated, fit, leaveOuts } = explanation;
  const z = zOf(symbol) ?? 0;
  const leaveOut = leaveOuts.get(candidates.indexOf(z));
  if (!leaveOut) return null;
  const { instead, added } = leaveOut;
  return {
    symbol,
    without: refitWithout(frame, fit, ownOf(fit, z)).expected,
    instead:
      added.length > 0
        ? {
            name: added.map((e) => symbolOf(candidates[e])).join('+'),
            expected: fittedInPlace(frame, candidates, stated, fit, instead).expected,
          }
        : null,
  };
}

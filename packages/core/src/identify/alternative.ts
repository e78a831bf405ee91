import { symbolOf, zOf } from '../atomic/elements.ts';
import { COMPARISON, refitWithout } from '../fit/refit.ts';
import { fitSpectrum, type SpectrumFit } from '../fit/spectrum-fit.ts';
import type { Explanation } from './explain.ts';
import type { LeaveOneOut } from './leave-one-out.ts';

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
  const { candidates, leaveOuts } = explanation;
  const z = zOf(symbol) ?? 0;
  const leaveOut = leaveOuts.get(candidates.indexOf(z));
  if (!leaveOut) return null;
  return {
    symbol,
    without: withoutElement(explanation, z),
    instead: leaveOut.added.length > 0 ? withRival(explanation, leaveOut) : null,
  };
}

function withoutElement({ frame, fit }: Explanation, z: number): Float64Array {
  const { layout } = fit.design;
  const nuisances = layout.nuisances.flatMap(({ owner }, i) => (owner === z ? [layout.nuisance(i)] : []));
  return refitWithout(frame, fit, [fit.zs.indexOf(z), ...nuisances]).expected;
}

function withRival({ frame, fit, candidates, stated }: Explanation, { instead, added }: LeaveOneOut) {
  const zs = instead.members.map((e) => candidates[e]);
  const amounts = Float64Array.from(instead.members, (e) => instead.x[e]);
  const other: SpectrumFit = fitSpectrum(frame, zs, fit.at, amounts, stated, {
    ...COMPARISON,
    maxExpansions: 1,
    near: true,
  });
  return { name: added.map((e) => symbolOf(candidates[e])).join('+'), expected: other.fit.expected };
}

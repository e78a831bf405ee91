import { picked } from '../arithmetic/pick.ts';
import { COMPARISON } from '../fit/refit.ts';
import { fitSpectrum, type SpectrumFit } from '../fit/spectrum-fit.ts';
import type { StatedInstrument } from '../fit/instrument-prior.ts';
import type { Hypothesis } from './search.ts';
import type { Frame } from './state.ts';

/** Coefficients of an element in a fit: its amount and the nuisances of its lines. */
export function ownOf({ design: { layout }, zs }: SpectrumFit, z: number): number[] {
  return [zs.indexOf(z), ...layout.nuisances.flatMap(({ owner }, i) => (owner === z ? [layout.nuisance(i)] : []))];
}

/**
 * Another set of elements fitted where a fit stands, with all the doubts about its own lines.
 * @param candidates atomic numbers by element index
 */
export function fittedInPlace(
  frame: Frame,
  candidates: readonly number[],
  stated: StatedInstrument,
  fit: SpectrumFit,
  { members, x }: Hypothesis,
): SpectrumFit {
  const zs = members.map((e) => candidates[e]);
  const amounts = picked(x, members);
  return fitSpectrum(frame, zs, fit.at, amounts, stated, {
    ...COMPARISON,
    maxExpansions: 1,
    near: true,
    beside: fit.design,
  });
}

import { FWHM_PER_SIGMA } from '../detector/resolution.ts';
import type { SpectrumFit } from '../fit/spectrum-fit.ts';
import { valueAt, type Column } from '../model/column.ts';
import { lineResponse } from '../model/instrument.ts';
import { groupsOf, summedLines } from '../model/groups.ts';
import { symbolOf } from '../atomic/elements.ts';
import type { Part } from './ledger.ts';
import { type Local, localAmount } from './local-amount.ts';
import type { Frame } from './state.ts';
import { LEAST_SIGMAS } from './thresholds.ts';

/**
 * A peak must stand: beside the evidence of the whole spectrum, at least one of an element's line groups must show as a peak of the
 * right place and width above a free local background and its neighbours' shapes, which may be wrong by more than the fit knows.
 * Sizes from trials on measured spectra.
 */

/** A line group as high as everything else at its place needs no further proof. */
const PLAIN = 1;
/** Least height of a peak relative to everything else at its place. */
const LEAST_RATIO = 0.02;
/** Groups with a smaller share of the element's detected area are not looked at. */
const LEAST_SHARE = 0.02;

/** How well a line group stands as a peak. */
export interface StandingPeak {
  /** Height over everything else at its place. */
  readonly ratio: number;
  /** Standard deviations by which it stands out locally; infinite where it is plain. */
  readonly sigmas: number;
}

/** Whether a peak is as high as everything else at its place. */
export const isPlain = ({ ratio }: StandingPeak): boolean => ratio >= PLAIN;

/** Whether a peak stands by itself. */
function stands({ ratio, sigmas }: StandingPeak): boolean {
  return ratio >= PLAIN || (sigmas >= LEAST_SIGMAS && ratio >= LEAST_RATIO);
}

/**
 * A line group of the element that stands as a peak; null where none does.
 * @param parts of the fit, as in the ledger
 */
export function standingPeak(frame: Frame, fit: SpectrumFit, parts: readonly Part[], z: number): StandingPeak | null {
  const k = fit.zs.indexOf(z);
  const { instrument } = fit.at;
  const amount = fit.fit.coefficients[k];
  const own = fit.design.layout.templates[k].column;
  for (const { energyEv } of strongGroups(z, fit.design.areas)) {
    const { centreEv, sigmaEv } = lineResponse(instrument, energyEv);
    const centre = Math.round((centreEv - instrument.axis.offsetEv) / instrument.axis.gainEv);
    if (centre < frame.range.lo || centre >= frame.range.hi) continue;
    const height = amount * valueAt(own, centre);
    const ratio = height / Math.max(fit.fit.expected[centre] - height, 1e-9);
    const fwhm = sigmaEv * FWHM_PER_SIGMA;
    const local = (): Local => localAmount({ frame, fit, parts, own, amount, symbol: symbolOf(z), centreEv, fwhm });
    const peak = { ratio, sigmas: ratio >= PLAIN ? Infinity : sigmasOf(local()) };
    if (stands(peak)) return peak;
  }
  return null;
}

const sigmasOf = ({ amount, sigma }: Local): number => amount / sigma;

/**
 * The least amount of an element outside the explanation with which one of its line groups would stand in most cases.
 * @param own its shape, per unit amount   @param quantile standard deviations to spare
 * @param enough an amount that is asked for anyway: where less would stand, how much less is not worked out
 */
export function amountThatStands(
  frame: Frame,
  fit: SpectrumFit,
  parts: readonly Part[],
  z: number,
  areas: Float64Array,
  own: Column,
  quantile: number,
  enough: number,
): number {
  const { instrument } = fit.at;
  const groups: { readonly centreEv: number; readonly fwhm: number; readonly asHigh: number }[] = [];
  let least = Infinity;
  for (const { energyEv } of strongGroups(z, areas)) {
    const { centreEv, sigmaEv } = lineResponse(instrument, energyEv);
    const centre = Math.round((centreEv - instrument.axis.offsetEv) / instrument.axis.gainEv);
    if (centre < frame.range.lo || centre >= frame.range.hi || !(valueAt(own, centre) > 0)) continue;
    const asHigh = Math.max(fit.fit.expected[centre], 1) / valueAt(own, centre);
    groups.push({ centreEv, fwhm: sigmaEv * FWHM_PER_SIGMA, asHigh });
    least = Math.min(least, PLAIN * asHigh);
  }
  for (const { centreEv, fwhm, asHigh } of groups) {
    if (least <= enough) return least;
    // It cannot stand with less than the least ratio, wherever its neighbours are.
    if (LEAST_RATIO * asHigh >= least) continue;
    const { sigma } = localAmount({ frame, fit, parts, own, amount: 0, symbol: symbolOf(z), centreEv, fwhm });
    least = Math.min(least, Math.max((LEAST_SIGMAS + quantile) * sigma, LEAST_RATIO * asHigh));
  }
  return least;
}

/** Line groups with a fair share of an element's detected area: mean energies, eV. */
function strongGroups(z: number, areas: Float64Array): { readonly energyEv: number }[] {
  const groups = groupsOf(z).map(({ lines }) => summedLines(lines, areas));
  const total = groups.reduce((sum, { area }) => sum + area, 0);
  return groups.filter(({ area }) => area > LEAST_SHARE * total);
}

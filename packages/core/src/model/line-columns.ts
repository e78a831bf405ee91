import { LINE_TABLE } from '../atomic/lines.ts';
import { escapeRatio, SILICON_ESCAPE_EV } from '../detector/escape.ts';
import { FWHM_PER_SIGMA } from '../detector/resolution.ts';
import { channelOf, type EnergyResponse, energyResponse, type Instrument, sigmaOf } from './instrument.ts';
import { slate } from './slate.ts';
import { addGaussian, addTail, addVoigt, voigtSigma } from './peak-shape.ts';

/** Where one or more lines are summed up: slates for expected counts per channel and, on request, for their derivatives. */
export interface LineSum {
  readonly value: Float64Array;
  readonly derivatives: LineDerivatives | null;
  /** Escape counts alone, part of `value`; null when not asked for. */
  readonly escape: Float64Array | null;
  /** Channels [from, to) outside of which nothing stands: shapes are narrow, and nobody looks for them where they cannot be. */
  from: number;
  to: number;
}

export interface LineDerivatives {
  /** Per eV of energy. */
  readonly shift: Float64Array;
  /** Per relative change of the width. */
  readonly width: Float64Array;
  /** Per unit of area moved from the peak into the tail of 1 (near) or 3 (far) FWHM. */
  readonly near: Float64Array;
  readonly far: Float64Array;
}

export function newLineSum(n: number, withDerivatives: boolean, withEscape = false): LineSum {
  return {
    value: slate(n),
    derivatives: withDerivatives ? { shift: slate(n), width: slate(n), near: slate(n), far: slate(n) } : null,
    escape: withEscape ? slate(n) : null,
    from: n,
    to: 0,
  };
}

/** Natural widths below this change nothing that counts show, eV. */
const MIN_NATURAL_WIDTH_EV = 2;
/** Lines of less than this share of the largest one are plain Gaussians: their tails and wings leave no trace. */
const TAIL_WORTH = 0.02;

/** A line as every detector of silicon meets it. */
export interface LineNature {
  readonly naturalWidthEv: number;
  readonly response: EnergyResponse;
  /** Its escape peak: counts per count of the line, and its own response. */
  readonly escape: number;
  readonly escaped: EnergyResponse;
}

export const lineNature = (energyEv: number, naturalWidthEv: number): LineNature => ({
  naturalWidthEv,
  response: energyResponse(energyEv),
  escape: escapeRatio(energyEv),
  escaped: energyResponse(energyEv - SILICON_ESCAPE_EV),
});

/** Those of LINE_TABLE, each made when first asked for (pure look-up table). */
const NATURES = new Array<LineNature | undefined>(LINE_TABLE.count);

export const tabledNature = (i: number): LineNature =>
  (NATURES[i] ??= lineNature(LINE_TABLE.energyEv[i], LINE_TABLE.widthEv[i]));

/**
 * Adds one line's response: Gaussian (pseudo-Voigt where the natural width shows), two exponential tails, escape peak.
 * The derivatives are those of the whole response, escape peak included.
 * @param areaCounts area of the line without its escape peak
 * @param share its area relative to the strongest line of the sum, decides whether tails are worth it
 * Source: Gaussian with exponential tail, Hypermet family; escape after Reed & Ware 1972.
 */
export function addLine(
  sum: LineSum,
  instrument: Instrument,
  { naturalWidthEv, response, escape, escaped }: LineNature,
  areaCounts: number,
  share: number,
): void {
  const { axis } = instrument;
  const { value, derivatives } = sum;
  const { centreEv, near, far } = response;
  const sigmaEv = sigmaOf(instrument, response.energyEv, response.widening);
  const withTails = share >= TAIL_WORTH;
  const peakArea = withTails ? areaCounts * (1 - near - far) : areaCounts;
  const broad = naturalWidthEv > MIN_NATURAL_WIDTH_EV;
  if (broad && withTails) addVoigt(value, axis, centreEv, sigmaEv, naturalWidthEv, peakArea, derivatives);
  else {
    const sigma = broad ? voigtSigma(sigmaEv, naturalWidthEv) : sigmaEv;
    addGaussian(value, axis, centreEv, sigma, peakArea, derivatives);
  }
  if (withTails) {
    const fwhm = sigmaEv * FWHM_PER_SIGMA;
    addTail(value, axis, centreEv, sigmaEv, fwhm, areaCounts, near, derivatives, derivatives?.near);
    addTail(value, axis, centreEv, sigmaEv, 3 * fwhm, areaCounts, far, derivatives, derivatives?.far);
    if (derivatives) {
      // What moves into a tail leaves the peak.
      addGaussian(derivatives.near, axis, centreEv, sigmaEv, -areaCounts);
      addGaussian(derivatives.far, axis, centreEv, sigmaEv, -areaCounts);
    }
  }
  const wide = sigmaEv * FWHM_PER_SIGMA + naturalWidthEv;
  const below = REACH_BELOW * wide + (escape > 0 ? SILICON_ESCAPE_EV : 0);
  widen(sum, channelOf(axis, centreEv - below), channelOf(axis, centreEv + REACH_ABOVE * wide));
  if (escape > 0) {
    const sigma = sigmaOf(instrument, escaped.energyEv, escaped.widening);
    addGaussian(value, axis, escaped.centreEv, sigma, areaCounts * escape, derivatives);
    if (sum.escape) addGaussian(sum.escape, axis, escaped.centreEv, sigma, areaCounts * escape);
  }
}

/** Widths, FWHM and natural one together, that a line with tails and wings reaches at most; some are spared for the centre of its escape peak. */
const REACH_BELOW = 20;
const REACH_ABOVE = 13;

/** Makes room for what stands between two places, fractional channels. */
export function widen(sum: LineSum, from: number, to: number): void {
  sum.from = Math.max(0, Math.min(sum.from, Math.floor(from)));
  sum.to = Math.min(sum.value.length, Math.max(sum.to, Math.ceil(to) + 1));
}

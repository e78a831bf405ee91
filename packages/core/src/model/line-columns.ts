import { escapeRatio, SILICON_ESCAPE_EV } from '../detector/escape.ts';
import type { Instrument } from './instrument.ts';
import { lineResponse } from './instrument.ts';

/** Where one or more lines are summed up: expected counts per channel and, on request, their derivatives. */
export interface LineSum {
  readonly value: Float64Array;
  readonly derivatives: LineDerivatives | null;
  /** Escape counts alone, part of `value`; null when not asked for. */
  readonly escape: Float64Array | null;
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
  const zero = (): Float64Array => new Float64Array(n);
  return {
    value: zero(),
    derivatives: withDerivatives ? { shift: zero(), width: zero(), near: zero(), far: zero() } : null,
    escape: withEscape ? zero() : null,
  };
}

/**
 * Radiative-Auger satellite of K lines, a broad bump below the line: part of the decay energy goes to an L electron.
 * Centre E − 1.7 E(L3), width 0.4 E(L3) beside the resolution, 0.2 ± 0.2 % of the parent for Z = 11 to 22.
 * Source: fits to measured silicates; the effect: Åberg & Utriainen, Phys. Rev. Lett. 22 (1969) 1346 (from memory).
 */
export const RADIATIVE_AUGER = { firstZ: 11, lastZ: 22, fraction: 0.002, sigma: 0.002 } as const;

/** Adds the radiative-Auger bump of a K line. @param edgeL3Ev L3 edge of its element */
export function addRadiativeAuger(
  out: Float64Array,
  instrument: Instrument,
  energyEv: number,
  edgeL3Ev: number,
  areaCounts: number,
): void {
  const { axis } = instrument;
  const response = lineResponse(instrument, energyEv - 1.7 * edgeL3Ev);
  addGaussian(
    out,
    axis.offsetEv,
    axis.gainEv,
    response.centreEv,
    Math.hypot(response.sigmaEv, 0.4 * edgeL3Ev),
    areaCounts,
  );
}

/** Gaussian support, standard deviations: the area beyond is 7e-6. */
const SUPPORT = 4.5;
/** Tail support, decay lengths: the area beyond is 0.7 % of the tail. */
const TAIL_SUPPORT = 5;
/** Natural widths below this change nothing that counts show, eV. */
const MIN_NATURAL_WIDTH_EV = 2;
/** Tails of smaller areas than this share of the largest line are left out of the sum. */
const TAIL_WORTH = 0.02;

/**
 * Adds one line's response: Gaussian (pseudo-Voigt where the natural width shows), two exponential tails, escape peak.
 * @param areaCounts area of the line without its escape peak
 * @param share its area relative to the strongest line of the sum, decides whether tails are worth it
 * Source: Gaussian with exponential tail, Hypermet family; pseudo-Voigt after Thompson, Cox & Hastings,
 * J. Appl. Cryst. 20 (1987) 79; escape after Reed & Ware 1972.
 */
export function addLine(
  sum: LineSum,
  instrument: Instrument,
  energyEv: number,
  naturalWidthEv: number,
  areaCounts: number,
  share: number,
): void {
  const { axis } = instrument;
  const response = lineResponse(instrument, energyEv);
  const withTails = share >= TAIL_WORTH;
  const peakArea = withTails ? areaCounts * (1 - response.near - response.far) : areaCounts;
  addPeak(sum, axis.offsetEv, axis.gainEv, response.centreEv, response.sigmaEv, naturalWidthEv, peakArea);
  if (withTails) {
    const fwhm = response.sigmaEv * 2.3548;
    addTail(
      sum.value,
      sum.derivatives?.near,
      axis,
      response.centreEv,
      response.sigmaEv,
      fwhm,
      areaCounts,
      response.near,
    );
    addTail(
      sum.value,
      sum.derivatives?.far,
      axis,
      response.centreEv,
      response.sigmaEv,
      3 * fwhm,
      areaCounts,
      response.far,
    );
  }
  const escape = escapeRatio(energyEv);
  if (escape > 0) {
    const at = lineResponse(instrument, energyEv - SILICON_ESCAPE_EV);
    addGaussian(sum.value, axis.offsetEv, axis.gainEv, at.centreEv, at.sigmaEv, areaCounts * escape);
    if (sum.escape) addGaussian(sum.escape, axis.offsetEv, axis.gainEv, at.centreEv, at.sigmaEv, areaCounts * escape);
  }
}

function addPeak(
  sum: LineSum,
  offset: number,
  gain: number,
  centre: number,
  sigma: number,
  naturalWidth: number,
  area: number,
): void {
  const { value, derivatives } = sum;
  const voigt = naturalWidth > MIN_NATURAL_WIDTH_EV ? pseudoVoigt(sigma, naturalWidth) : null;
  const gaussSigma = voigt ? voigt.sigma : sigma;
  const gaussArea = voigt ? area * (1 - voigt.lorentzian) : area;
  const reach = SUPPORT * gaussSigma;
  const from = Math.max(0, Math.ceil((centre - reach - offset) / gain));
  const to = Math.min(value.length, Math.floor((centre + reach - offset) / gain) + 1);
  const height = (gaussArea * gain) / (gaussSigma * Math.sqrt(2 * Math.PI));
  const inverse = 1 / gaussSigma;
  for (let i = from; i < to; i++) {
    const u = (offset + gain * i - centre) * inverse;
    const y = height * Math.exp(-0.5 * u * u);
    value[i] += y;
    if (derivatives) {
      derivatives.shift[i] += y * u * inverse;
      derivatives.width[i] += y * (u * u - 1);
      derivatives.near[i] -= y;
      derivatives.far[i] -= y;
    }
  }
  if (voigt) addLorentzian(value, offset, gain, centre, voigt.fwhm, area * voigt.lorentzian);
}

/** Common width and Lorentzian share of the pseudo-Voigt that stands for Gaussian(sigma) * Lorentzian(FWHM). */
function pseudoVoigt(sigma: number, lorentz: number): { sigma: number; fwhm: number; lorentzian: number } {
  const g = sigma * 2.3548;
  const l = lorentz;
  const fwhm =
    (g ** 5 +
      2.69269 * g ** 4 * l +
      2.42843 * g ** 3 * l ** 2 +
      4.47163 * g ** 2 * l ** 3 +
      0.07842 * g * l ** 4 +
      l ** 5) **
    0.2;
  const r = l / fwhm;
  return { sigma: fwhm / 2.3548, fwhm, lorentzian: 1.36603 * r - 0.47719 * r * r + 0.11116 * r * r * r };
}

function addLorentzian(
  out: Float64Array,
  offset: number,
  gain: number,
  centre: number,
  fwhm: number,
  area: number,
): void {
  const reach = 6 * fwhm;
  const from = Math.max(0, Math.ceil((centre - reach - offset) / gain));
  const to = Math.min(out.length, Math.floor((centre + reach - offset) / gain) + 1);
  const half = fwhm / 2;
  const scale = (area * gain * half) / Math.PI;
  for (let i = from; i < to; i++) {
    const x = offset + gain * i - centre;
    out[i] += scale / (x * x + half * half);
  }
}

function addGaussian(
  out: Float64Array,
  offset: number,
  gain: number,
  centre: number,
  sigma: number,
  area: number,
): void {
  const from = Math.max(0, Math.ceil((centre - SUPPORT * sigma - offset) / gain));
  const to = Math.min(out.length, Math.floor((centre + SUPPORT * sigma - offset) / gain) + 1);
  const height = (area * gain) / (sigma * Math.sqrt(2 * Math.PI));
  for (let i = from; i < to; i++) {
    const u = (offset + gain * i - centre) / sigma;
    out[i] += height * Math.exp(-0.5 * u * u);
  }
}

/**
 * Exponential tail below the line, folded with the Gaussian, unit area:
 * T(x) = exp(x/β + σ²/2β²) erfc(x/σ√2 + σ/β√2) / 2β.
 */
function addTail(
  value: Float64Array,
  derivative: Float64Array | undefined,
  axis: { readonly offsetEv: number; readonly gainEv: number },
  centre: number,
  sigma: number,
  beta: number,
  area: number,
  fraction: number,
): void {
  const { offsetEv: offset, gainEv: gain } = axis;
  const from = Math.max(0, Math.ceil((centre - TAIL_SUPPORT * beta - offset) / gain));
  const to = Math.min(value.length, Math.floor((centre + SUPPORT * sigma - offset) / gain) + 1);
  const scale = (area * gain) / (2 * beta);
  const bias = (sigma * sigma) / (2 * beta * beta);
  const a = 1 / (sigma * Math.SQRT2);
  const c = sigma / (beta * Math.SQRT2);
  for (let i = from; i < to; i++) {
    const x = offset + gain * i - centre;
    if (offset + gain * i < 0) continue;
    const y = scale * Math.exp(x / beta + bias) * erfc(x * a + c);
    value[i] += fraction * y;
    if (derivative) derivative[i] += y;
  }
}

/** Complementary error function, absolute error below 1.5e-7. Source: Abramowitz & Stegun, formula 7.1.26. */
export function erfc(x: number): number {
  const t = 1 / (1 + 0.3275911 * Math.abs(x));
  const tail =
    t *
    (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429)))) *
    Math.exp(-x * x);
  return x >= 0 ? tail : 2 - tail;
}

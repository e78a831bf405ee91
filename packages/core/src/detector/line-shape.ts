import { Gaussian } from 'ml-peak-shape-generator';
import type { Detector } from './detector.ts';
import { erfc } from './error-function.ts';
import { SILICON } from './layers.ts';
import { FWHM_PER_SIGMA, fwhmEv } from './resolution.ts';

/** Linear energy axis: channel i collects offsetEv + gainEv (i - 1/2) .. offsetEv + gainEv (i + 1/2). */
export interface Axis {
  readonly offsetEv: number;
  readonly gainEv: number;
}

/** Response to monochromatic photons, escape and shelf apart. */
export interface LineShape {
  readonly centreEv: number;
  readonly sigmaEv: number;
  /** Natural width (Lorentzian FWHM), eV. */
  readonly naturalEv: number;
  /** Part of the area in the low-energy tail, and its decay length, eV. */
  readonly tail: number;
  readonly tailDecayEv: number;
}

/**
 * Response of a detector to a line. Photons absorbed just under the entrance lose part of their charge: their share,
 * 1 - exp(-mu d), draws the peak down, widens it and feeds the tail, most just above the Si K edge and below 1 keV.
 * Source: the picture of F. Scholze, M. Procop, X-Ray Spectrom. 38 (2009) 312, reduced to one layer.
 */
export function lineShape(detector: Detector, energyEv: number, naturalEv = 0): LineShape {
  const poor = -Math.expm1(-SILICON(energyEv) * detector.poorLayerUm);
  const fwhm = fwhmEv(detector, energyEv) * (1 + detector.poorWidth * poor);
  return {
    centreEv: energyEv - detector.poorShiftEv * poor,
    sigmaEv: fwhm / FWHM_PER_SIGMA,
    naturalEv,
    tail: detector.deepTail + detector.poorTail * poor,
    tailDecayEv: detector.tailDecay * fwhm,
  };
}

/** Standard deviations up to which a Gaussian is followed: the area beyond is 2e-9. */
const REACH = new Gaussian({ sd: 1 }).getFactor(1 - 2e-9) * (FWHM_PER_SIGMA / 2);
/** Tail decay lengths and natural widths that are followed; the area beyond is 3e-6 of the tail, 0.8 % of the Lorentzian. */
const TAIL_REACH = 13;
const LORENTZIAN_REACH = 40;

/**
 * Adds a line of the given area (counts) to expected counts per channel, each shape integrated over the channel: a Gaussian
 * (a Voigt profile, as pseudo-Voigt, where the line has a natural width) and an exponential tail folded with the Gaussian.
 * Source of the pseudo-Voigt: P. Thompson, D.E. Cox, J.B. Hastings, J. Appl. Cryst. 20 (1987) 79; tail: Hypermet family.
 */
export function addLine(out: Float64Array, axis: Axis, shape: LineShape, areaCounts: number): void {
  const { centreEv, sigmaEv, naturalEv, tail, tailDecayEv } = shape;
  const peak = areaCounts * (1 - tail);
  const { sigma, lorentzian } = naturalEv > 0 ? pseudoVoigt(sigmaEv, naturalEv) : { sigma: sigmaEv, lorentzian: 0 };
  const half = (sigma * FWHM_PER_SIGMA) / 2;
  addIntegral(out, axis, peak * (1 - lorentzian), centreEv, REACH * sigma, REACH * sigma, (x) =>
    gaussianBelow(x, sigma),
  );
  if (lorentzian > 0) {
    const reach = LORENTZIAN_REACH * 2 * half;
    addIntegral(out, axis, peak * lorentzian, centreEv, reach, reach, (x) => 0.5 + Math.atan(x / half) / Math.PI);
  }
  if (tail > 0) {
    const below = TAIL_REACH * tailDecayEv;
    addIntegral(out, axis, areaCounts * tail, centreEv, below, REACH * sigmaEv, (x) =>
      tailBelow(x, sigmaEv, tailDecayEv),
    );
  }
}

/** Adds area * (F(upper edge) - F(lower edge)) to each channel within reach of the centre. */
function addIntegral(
  out: Float64Array,
  { offsetEv, gainEv }: Axis,
  area: number,
  centre: number,
  below: number,
  above: number,
  cumulative: (x: number) => number,
): void {
  if (!(area > 0)) return;
  const from = Math.max(0, Math.ceil((centre - below - offsetEv) / gainEv));
  const to = Math.min(out.length - 1, Math.floor((centre + above - offsetEv) / gainEv));
  let lower = cumulative(offsetEv + gainEv * (from - 0.5) - centre);
  for (let i = from; i <= to; i++) {
    const upper = cumulative(offsetEv + gainEv * (i + 0.5) - centre);
    out[i] += area * (upper - lower);
    lower = upper;
  }
}

function gaussianBelow(x: number, sigma: number): number {
  return 0.5 * erfc(-x / (sigma * Math.SQRT2));
}

/** Integral from minus infinity of exp(x/β + σ2/2β2) erfc(x/σ√2 + σ/β√2) / 2β. */
function tailBelow(x: number, sigma: number, beta: number): number {
  const exponential = Math.exp(x / beta + (sigma * sigma) / (2 * beta * beta));
  return gaussianBelow(x, sigma) + 0.5 * exponential * erfc(x / (sigma * Math.SQRT2) + sigma / (beta * Math.SQRT2));
}

/** Common width (as sigma) and Lorentzian share of the pseudo-Voigt that stands for a Gaussian folded with a Lorentzian. */
function pseudoVoigt(sigmaEv: number, l: number): { sigma: number; lorentzian: number } {
  const g = sigmaEv * FWHM_PER_SIGMA;
  const sum =
    g ** 5 +
    2.69269 * g ** 4 * l +
    2.42843 * g ** 3 * l ** 2 +
    4.47163 * g ** 2 * l ** 3 +
    0.07842 * g * l ** 4 +
    l ** 5;
  const fwhm = sum ** 0.2;
  const r = l / fwhm;
  return { sigma: fwhm / FWHM_PER_SIGMA, lorentzian: 1.36603 * r - 0.47719 * r * r + 0.11116 * r ** 3 };
}

import { angleOf } from '../arithmetic/angle.ts';
import { exp } from '../arithmetic/exponential.ts';
import { power } from '../arithmetic/power.ts';
import { Gaussian } from 'ml-peak-shape-generator';
import type { Detector } from './detector.ts';
import { erfc } from './error-function.ts';
import { SILICON } from './layers.ts';
import { pseudoVoigt } from './pseudo-voigt.ts';
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

/** Losses below this many standard deviations shift and widen the peak, larger ones are its tail. */
const CORE = 1.5;

/**
 * Response of a detector to a line. Of a photon absorbed at depth z the part f exp(-z / d) of the charge is lost, f the loss
 * at the surface. Depths follow mu exp(-mu z), so losses x up to f E have the distribution (x / f E)^a, a = mu d: most lose
 * nothing that shows, some much. Its moments are known, also of what lies below a limit (a power law cut off is a power law):
 * losses below 1.5 sigma give the peak its shift and width, the others are an exponential tail with their mean. Against the
 * distribution folded with the Gaussian: within about 2 % of the peak's height, C to Cl.
 * Source of the picture: F. Scholze, M. Procop, X-Ray Spectrom. 38 (2009) 312, from memory; moments derived.
 */
export function lineShape(detector: Detector, energyEv: number, naturalEv = 0): LineShape {
  const fwhm = fwhmEv(detector, energyEv);
  const sigma = fwhm / FWHM_PER_SIGMA;
  const a = energyEv > 0 ? SILICON(energyEv) * detector.lossDepthUm : 0;
  const most = detector.surfaceLoss * energyEv;
  const limit = Math.min(most, CORE * sigma);
  const mean = (limit * a) / (1 + a);
  const variance = (limit * limit * a) / (2 + a) - mean * mean;
  const surfaceTail = limit < most ? 1 - power(limit / most, a) : 0;
  // First moments: all losses = core + tail. The tail of every peak is added.
  const surfaceMoment = (most * a) / (1 + a) - mean;
  const { deepTail } = detector;
  const tail = surfaceTail + deepTail;
  return {
    centreEv: energyEv - mean,
    sigmaEv: Math.sqrt(sigma * sigma + variance),
    naturalEv,
    tail,
    tailDecayEv: tail > 0 ? (surfaceMoment + deepTail * detector.tailDecay * fwhm) / tail : fwhm,
  };
}

/** Standard deviations up to which a Gaussian is followed: the area beyond is 2e-9. Rid of the last digits, in which engines differ. */
const REACH = Number((new Gaussian({ sd: 1 }).getFactor(1 - 2e-9) * (FWHM_PER_SIGMA / 2)).toPrecision(9));
/** Tail decay lengths that are followed; the area beyond is 3e-6 of the tail. */
const TAIL_REACH = 13;
/** A Lorentzian is followed over this many widths (0.8 % of it lies beyond), or until 2e-4 of the line are left. */
const LORENTZIAN_REACH = 40;
const REACH_PER_NATURAL_WIDTH = 2000;
/** From this argument downwards erfc is 2 to 1e-9. */
const ERFC_IS_TWO = 4.4;
/** A decay length under this many standard deviations cannot be told from a shift. */
const SHORTEST_DECAY = 1 / 8;

/**
 * Adds a line of the given area (counts) to expected counts per channel, each shape integrated over the channel: a Gaussian
 * (a Voigt profile, as pseudo-Voigt, where the line has a natural width) and an exponential tail folded with the Gaussian.
 * A few microseconds, nothing allocated; error of the integrals below 1e-9 of the area.
 * Source of the pseudo-Voigt: P. Thompson, D.E. Cox, J.B. Hastings, J. Appl. Cryst. 20 (1987) 79; tail: Hypermet family.
 */
export function addLine(out: Float64Array, axis: Axis, shape: LineShape, areaCounts: number): void {
  const { centreEv, sigmaEv, naturalEv, tail, tailDecayEv } = shape;
  if (!(areaCounts > 0)) return;
  const withTail = tail > 0 && tailDecayEv > SHORTEST_DECAY * sigmaEv;
  const peak = withTail ? areaCounts * (1 - tail) : areaCounts;
  if (naturalEv > 0) {
    const { fwhm, lorentzian: share } = pseudoVoigt(sigmaEv, naturalEv);
    addGaussian(out, axis, centreEv, fwhm / FWHM_PER_SIGMA, peak * (1 - share));
    const reach = Math.min(LORENTZIAN_REACH * fwhm, 3 * fwhm + REACH_PER_NATURAL_WIDTH * naturalEv);
    addLorentzian(out, axis, centreEv, fwhm / 2, peak * share, reach);
  } else addGaussian(out, axis, centreEv, sigmaEv, peak);
  if (withTail) addTail(out, axis, centreEv, sigmaEv, tailDecayEv, areaCounts * tail);
}

/** Difference of the cumulative Gaussian between the edges of each channel. */
function addGaussian(out: Float64Array, axis: Axis, centre: number, sigma: number, area: number): void {
  const { offsetEv, gainEv } = axis;
  const from = firstChannel(axis, centre - REACH * sigma);
  const to = lastChannel(out, axis, centre + REACH * sigma);
  const scale = 1 / (sigma * Math.SQRT2);
  const half = 0.5 * area;
  let lower = erfc((offsetEv + gainEv * (from - 0.5) - centre) * scale);
  for (let i = from; i <= to; i++) {
    const upper = erfc((offsetEv + gainEv * (i + 0.5) - centre) * scale);
    out[i] += half * (lower - upper);
    lower = upper;
  }
}

/** atan b - atan a = atan((b - a) / (1 + ab)), by its series where it is small. */
function addLorentzian(out: Float64Array, axis: Axis, centre: number, half: number, area: number, reach: number): void {
  const { offsetEv, gainEv } = axis;
  const from = firstChannel(axis, centre - reach);
  const to = lastChannel(out, axis, centre + reach);
  const scale = area / Math.PI;
  const middle = half * half - 0.25 * gainEv * gainEv;
  const width = gainEv * half;
  for (let i = from; i <= to; i++) {
    const x = offsetEv + gainEv * i - centre;
    const below = middle + x * x;
    const t = width / below;
    const t2 = t * t;
    const angle =
      t > 0 && t < 0.2 ? t * (1 - t2 * (1 / 3 - t2 * (1 / 5 - t2 * (1 / 7 - t2 / 9)))) : angleOf(width, below);
    out[i] += scale * angle;
  }
}

/**
 * Integral from minus infinity of exp(x/b + s2/2b2) erfc(x/s sqrt2 + s/b sqrt2) / 2b, b the decay length, s the standard
 * deviation: that of the Gaussian plus exp(x/b + s2/2b2) erfc(x/s sqrt2 + s/b sqrt2) / 2.
 */
function addTail(out: Float64Array, axis: Axis, centre: number, sigma: number, decay: number, area: number): void {
  const { offsetEv, gainEv } = axis;
  const from = firstChannel(axis, centre - Math.max(TAIL_REACH * decay, REACH * sigma));
  const to = lastChannel(out, axis, centre + REACH * sigma);
  const scale = 1 / (sigma * Math.SQRT2);
  const shift = sigma / (decay * Math.SQRT2);
  const step = exp(gainEv / decay);
  const start = offsetEv + gainEv * (from - 0.5) - centre;
  let exponential = exp(start / decay + shift * shift);
  // Beyond the reach of the Gaussian the tail is a plain exponential.
  const plain = Math.min(to, lastChannel(out, axis, centre - (ERFC_IS_TWO + shift) / scale - gainEv));
  let i = from;
  for (; i <= plain; i++) {
    out[i] += area * exponential * (step - 1);
    exponential *= step;
  }
  const first = (offsetEv + gainEv * (i - 0.5) - centre) * scale;
  let lower = erfc(-first) + exponential * erfc(first + shift);
  for (; i <= to; i++) {
    const u = (offsetEv + gainEv * (i + 0.5) - centre) * scale;
    exponential *= step;
    const upper = erfc(-u) + exponential * erfc(u + shift);
    out[i] += 0.5 * area * (upper - lower);
    lower = upper;
  }
}

/** The channel an energy falls into, or the first or last there is. */
function firstChannel({ offsetEv, gainEv }: Axis, energyEv: number): number {
  return Math.max(0, Math.floor((energyEv - offsetEv) / gainEv + 0.5));
}

function lastChannel(out: Float64Array, { offsetEv, gainEv }: Axis, energyEv: number): number {
  return Math.min(out.length - 1, Math.floor((energyEv - offsetEv) / gainEv + 0.5));
}

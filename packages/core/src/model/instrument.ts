import { exp } from '../arithmetic/exponential.ts';
import type { Detector } from '../detector/detector.ts';
import { FWHM_PER_SIGMA, fwhmEv } from '../detector/resolution.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';

/** What turns emitted lines into channels: the axis and the detector, both settled by the fit. */
export interface Instrument {
  readonly axis: EnergyAxis;
  readonly detector: Detector;
}

/** Fractional channel of an energy. */
export function channelOf(axis: EnergyAxis, energyEv: number): number {
  return (energyEv - axis.offsetEv) / axis.gainEv;
}

/** Centres of n channels, eV. @param first the first of them */
export function channelEnergies({ offsetEv, gainEv }: EnergyAxis, n: number, first = 0): Float64Array {
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) out[i] = offsetEv + gainEv * (first + i);
  return out;
}

/**
 * Position, width and tail of a line's response, with the standard uncertainty that the fit allows each.
 * Values from fits to measured spectra of known materials (seven instruments or settings): soft lines lie low and are
 * wider because their charge is collected incompletely.
 */
export interface LineResponse {
  readonly centreEv: number;
  readonly sigmaEv: number;
  readonly near: number;
  readonly far: number;
}

/** Energy over which incomplete charge collection fades, eV. */
const SOFT_SCALE_EV = 700;
const softness = (energyEv: number): number => exp(-((energyEv / SOFT_SCALE_EV) ** 2));

/**
 * Just above the silicon K edge photons are absorbed near the surface again, where charge is lost. The physical picture
 * (detector/line-shape.ts) puts peaks there up to 3.6 eV low; measured P, S and Cl peaks neither show nor exclude it: half of
 * it, with the other half as uncertainty.
 */
const SILICON_EDGE_EV = 1839;
export const EDGE_SHIFT_EV = 1.8;
const EDGE_SCALE_EV = 1000;
const aboveEdge = (energyEv: number): number =>
  energyEv > SILICON_EDGE_EV ? exp((SILICON_EDGE_EV - energyEv) / EDGE_SCALE_EV) : 0;

/** What of a response depends on the energy alone. `near` and `far` are fractions of the area in tails of 1 and 3 FWHM. */
export interface EnergyResponse {
  readonly energyEv: number;
  readonly centreEv: number;
  /** Its width over that of complete charge collection. */
  readonly widening: number;
  readonly near: number;
  readonly far: number;
}

export function energyResponse(energyEv: number): EnergyResponse {
  const [soft, edge] = [softness(energyEv), aboveEdge(energyEv)];
  return {
    energyEv,
    centreEv: energyEv - 6 * soft - EDGE_SHIFT_EV * edge,
    widening: widened(soft),
    near: energyEv < 750 ? 0.02 : energyEv < 2700 ? 0.003 + 0.007 * edge : 0.0015,
    far: energyEv < 750 ? 0.012 : energyEv < 2700 ? 0.003 : 0.002,
  };
}

const widened = (soft: number): number => 1 + 0.05 * soft;

/** Expected response of a line of this energy. */
export function lineResponse(instrument: Instrument, energyEv: number): LineResponse {
  const response = energyResponse(energyEv);
  const { centreEv, near, far } = response;
  return { centreEv, sigmaEv: sigmaOf(instrument, energyEv, response.widening), near, far };
}

/** Its width alone. */
export const lineSigma = (instrument: Instrument, energyEv: number): number =>
  sigmaOf(instrument, energyEv, widened(softness(energyEv)));

/** The same where it is known how much incomplete charge collection widens it. */
export function sigmaOf({ axis, detector }: Instrument, energyEv: number, widening: number): number {
  const sigma = (fwhmEv(detector, energyEv) / FWHM_PER_SIGMA) * widening;
  // A channel collects over its width: sampling at its centre is exact to second order with this variance.
  return Math.sqrt(sigma * sigma + (axis.gainEv * axis.gainEv) / 12);
}

/** One-standard-uncertainty of the response of a line group: shift in eV, width relative, tails as fractions of the area. */
export interface ResponseDoubt {
  readonly shiftEv: number;
  readonly width: number;
  readonly near: number;
  readonly far: number;
}

export function responseDoubt(family: 'K' | 'L' | 'M', energyEv: number): ResponseDoubt {
  if (energyEv < 350) return { shiftEv: 6, width: 0.06, near: 0.05, far: 0.04 };
  if (energyEv < 750) return { shiftEv: 4, width: 0.06, near: 0.05, far: 0.04 };
  if (family !== 'K' && energyEv < 1500) return { shiftEv: 1.5, width: 0.03, near: 0.02, far: 0.02 };
  const edge = aboveEdge(energyEv);
  if (energyEv < 2700) return { shiftEv: 1 + 0.8 * edge, width: 0.008 + 0.01 * edge, near: 0.012, far: 0.008 };
  return { shiftEv: 1.3, width: 0.008, near: 0.004, far: 0.008 };
}

import type { Detector } from './detector.ts';

/** FWHM / sigma of a Gaussian: 2 sqrt(2 ln 2). */
export const FWHM_PER_SIGMA = 2 * Math.sqrt(2 * Math.LN2);

/**
 * Full width at half maximum of the detector's response, eV, complete charge collection:
 * FWHM2 = noise2 + 8 ln 2 F eps E. Peaks of C, N and O measure up to 3 % wider (line-shape.ts).
 */
export function fwhmEv(detector: Detector, energyEv: number): number {
  const statistical = 8 * Math.LN2 * detector.fano * detector.pairEv * Math.max(0, energyEv);
  return Math.sqrt(detector.noiseEv ** 2 + statistical);
}

/** Mean energy of Mn K-L2,3, where ISO 15632 states the resolution, eV. */
export const MN_K_ALPHA_EV = 5895;

/** Electronic noise (FWHM, eV) that gives a stated resolution at Mn Ka; 0 if it is better than the statistics allow. */
export function noiseFor(detector: Detector, fwhmMnEv: number): number {
  const statistical = fwhmEv({ ...detector, noiseEv: 0 }, MN_K_ALPHA_EV);
  return Math.sqrt(Math.max(0, fwhmMnEv ** 2 - statistical ** 2));
}

/** The best resolution at Mn Ka that a detector could have without any electronic noise, eV. */
export function leastFwhmEv(detector: Detector): number {
  return fwhmEv({ ...detector, noiseEv: 0 }, MN_K_ALPHA_EV);
}

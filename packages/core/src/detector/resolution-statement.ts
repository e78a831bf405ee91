import type { Detector } from './detector.ts';
import { lineShape } from './line-shape.ts';
import { FWHM_PER_SIGMA, MN_K_ALPHA_EV, noiseFor } from './resolution.ts';

/** Resolution the way ISO 15632 states it: full width at half maximum of three peaks, eV. */
export interface ResolutionStatement {
  /** Mn K-alpha, 5895 eV. */
  readonly mnKaEv: number;
  /** C K, 277 eV, and F K, 677 eV: stated of detectors for use below 1 keV. */
  readonly cKEv: number;
  readonly fKEv: number;
}

const C_K_EV = 277;
const F_K_EV = 676.8;

/**
 * The three figures of a detector, C and F with what incomplete charge collection adds. Of the detector alone: the two lines of
 * Mn K-alpha (11 eV apart, 2.5 eV wide) make the measured peak about 1 eV wider.
 * Source: ISO 15632:2012, from memory; line energies X-Ray Data Booklet Table 1-2.
 */
export function resolutionStatement(detector: Detector): ResolutionStatement {
  const width = (energyEv: number): number => lineShape(detector, energyEv).sigmaEv * FWHM_PER_SIGMA;
  return { mnKaEv: width(MN_K_ALPHA_EV), cKEv: width(C_K_EV), fKEv: width(F_K_EV) };
}

/** The detector with the electronic noise that gives a stated resolution at Mn Kα (at best what the statistics allow). @param mnKaEv FWHM, eV */
export function withResolution(detector: Detector, mnKaEv: number): Detector {
  return { ...detector, noiseEv: noiseFor(detector, mnKaEv) };
}

import type { Detector } from './detector.ts';
import { addLine, type Axis } from './line-shape.ts';
import { FWHM_PER_SIGMA } from './resolution.ts';

/** Zero-peak counts per second of real time where it is recorded; common practice, no source: hundreds to tens of thousands. */
export const DEFAULT_ZERO_PEAK_PER_S = 5000;

/**
 * Adds the zero peak: the electronics measure without a photon, on a clock or on noise, and find 0 eV with the electronic
 * noise alone. Its width is the noise, its place the zero of the axis; it does not pile up. @param counts area
 */
export function addZeroPeak(out: Float64Array, axis: Axis, detector: Detector, counts: number): void {
  const sigmaEv = detector.noiseEv / FWHM_PER_SIGMA;
  addLine(out, axis, { centreEv: 0, sigmaEv, naturalEv: 0, tail: 0, tailDecayEv: sigmaEv }, counts);
}

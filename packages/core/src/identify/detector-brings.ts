import type { SpectrumFit } from '../fit/spectrum-fit.ts';

/** What a detector brings of an element itself, counts per count of the spectrum. */
export interface DetectorShare {
  readonly atMost: number;
  readonly usual: number;
}

/**
 * Aluminium and silicon of the detector itself, per count of the spectrum: up to 0.13 % silicon on GaAs, Cu and ZnO, up to 0.05 %
 * aluminium on samples without it (measured). What so few counts come from is told as in doubt; below the usual amount, most of
 * these, the element is not required either.
 */
const DETECTOR_BRINGS: ReadonlyMap<number, DetectorShare> = new Map([
  [13, { atMost: 5e-4, usual: 5e-4 }],
  [14, { atMost: 2e-3, usual: 8e-4 }],
]);

/** What the detector itself may bring of an element; nothing where other spectra of the session told what it brings. */
export function detectorBrings(fit: SpectrumFit, z: number): DetectorShare {
  const told = z === 14 && fit.at.prior.artefacts?.['detector silicon'] !== undefined;
  return (told ? undefined : DETECTOR_BRINGS.get(z)) ?? { atMost: 0, usual: 0 };
}

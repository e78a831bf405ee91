import type { SpectrumFit } from '../fit/spectrum-fit.ts';

/** What a detector brings of an element itself, counts per count of the spectrum. */
export interface DetectorShare {
  readonly atMost: number;
  readonly usual: number;
}

/**
 * Probability at most where the detector alone may bring so much. Of the elements required by the counts six in ten were in the specimen:
 * silicon in 613 simulated and measured spectra, some of these thinned. Of those in doubt for another reason as well it was 1 of 169 in
 * simulated spectra, more in steels.
 */
export const OWN_AT_MOST = { required: 0.6, doubted: 0.05 };

/**
 * Aluminium and silicon of the detector itself, per count of the spectrum: 0.06 to 0.12 % silicon on GaAs, Cu, hBN and ZnO, up to
 * 0.05 % aluminium on samples without it (measured), 0.02 to 0.2 % silicon by detector handbooks (from memory). What so few counts come
 * from is told as in doubt; up to the usual amount, what was measured, the element is not required either.
 */
const DETECTOR_BRINGS: ReadonlyMap<number, DetectorShare> = new Map([
  [13, { atMost: 5e-4, usual: 5e-4 }],
  [14, { atMost: 2e-3, usual: 1.2e-3 }],
]);

/** What the detector itself may bring of an element; nothing where other spectra of the session told what it brings. */
export function detectorBrings(fit: SpectrumFit, z: number): DetectorShare {
  const told = z === 14 && fit.at.prior.artefacts?.['detector silicon'] !== undefined;
  return (told ? undefined : DETECTOR_BRINGS.get(z)) ?? { atMost: 0, usual: 0 };
}

/**
 * Aluminium of stub, holder and chamber, which scattered electrons and X-rays reach, counts per count of the spectrum: 0.37 % on bulk copper
 * (measured, one instrument; that they do is common practice, no source). In clays, feldspars, glass and ash so little aluminium comes with
 * more silicon, in lakes and aluminates there is more of it.
 */
const HOLDER_BRINGS = 5e-3;
const ALUMINIUM = 13;
export const SILICON = 14;

/**
 * Whether the holder or the chamber may have brought all of an element.
 * @param perCount what was fitted of it, counts per count of the spectrum   @param silicon the same of silicon
 */
export const holderBrings = (z: number, perCount: number, silicon: number): boolean =>
  z === ALUMINIUM && perCount < HOLDER_BRINGS && perCount > silicon;

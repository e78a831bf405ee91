import type { Detector } from './detector.ts';
import { ALUMINIUM, BERYLLIUM, ICE, type LinearAttenuation, POLYIMIDE, SILICON, SILICON_NITRIDE } from './layers.ts';

/**
 * Part of the photons on their way to the detector that leave a pulse, 0..1: through window, ice and dead layer and
 * absorbed in the active silicon. Independent layers; the support grid lets through what its bars leave open and a little
 * through the bars. Scattered photons count as absorbed: 0.02 too much at 17 keV, less below.
 */
export function efficiency(detector: Detector, energyEv: number): number {
  const silicon = SILICON(energyEv);
  let path = silicon * detector.deadLayerUm;
  if (detector.iceUm > 0) path += ICE(energyEv) * detector.iceUm;
  const absorbed = -Math.expm1(-silicon * detector.thicknessMm * 1000);
  return windowTransmission(detector, energyEv, silicon) * Math.exp(-path) * absorbed;
}

/** {@link efficiency} at each of many energies. */
export function efficiencies(detector: Detector, energiesEv: Float64Array): Float64Array {
  return energiesEv.map((energy) => efficiency(detector, energy));
}

const MATERIALS: Record<Exclude<Detector['window'], 'none'>, LinearAttenuation> = {
  polymer: POLYIMIDE,
  'silicon-nitride': SILICON_NITRIDE,
  beryllium: BERYLLIUM,
};

function windowTransmission(detector: Detector, energyEv: number, silicon: number): number {
  const { window, windowUm, aluminiumNm, openFraction, gridUm } = detector;
  if (window === 'none') return 1;
  const film = MATERIALS[window](energyEv) * windowUm;
  if (window === 'beryllium') return Math.exp(-film);
  const coat = ALUMINIUM(energyEv) * aluminiumNm * 1e-3;
  const grid = openFraction + (1 - openFraction) * Math.exp(-silicon * gridUm);
  return Math.exp(-film - coat) * grid;
}

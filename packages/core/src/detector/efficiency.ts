import { exp, expm1 } from '../arithmetic/exponential.ts';
import type { Detector } from './detector.ts';
import {
  ALUMINIUM,
  BERYLLIUM,
  CARBON,
  GOLD,
  ICE,
  type LinearAttenuation,
  POLYIMIDE,
  SILICON,
  SILICON_NITRIDE,
} from './layers.ts';

/**
 * Part of the photons on their way to the detector that leave a pulse, 0..1: those that reach the crystal, pass
 * its dead layer and are absorbed in the active silicon. Scattered photons count as absorbed: 0.02 too much at 17 keV, less
 * below.
 */
export function efficiency(detector: Detector, energyEv: number): number {
  const silicon = SILICON(energyEv);
  const crystal = exp(-silicon * detector.deadLayerUm) * -expm1(-silicon * detector.thicknessMm * 1000);
  return reaching(detector, energyEv, silicon) * crystal;
}

/**
 * Part of the photons that reach the crystal, 0..1: through window and its grid, ice, carbon and contact. Independent flat
 * layers; the support grid lets through what its bars leave open and a little through the bars.
 * @param silicon linear attenuation coefficient of silicon at this energy, 1/um, where it is known already
 */
export function reaching(detector: Detector, energyEv: number, silicon = SILICON(energyEv)): number {
  const { iceUm, carbonNm, contactNm } = detector;
  let path = 0;
  if (iceUm > 0) path += ICE(energyEv) * iceUm;
  if (carbonNm > 0) path += CARBON(energyEv) * carbonNm * NM_TO_UM;
  if (contactNm > 0) path += CONTACTS[detector.contact](energyEv) * contactNm * NM_TO_UM;
  return windowTransmission(detector, energyEv, silicon) * exp(-path);
}

/** {@link efficiency} at each of many energies. */
export function efficiencies(detector: Detector, energiesEv: Float64Array): Float64Array {
  return energiesEv.map((energy) => efficiency(detector, energy));
}

const NM_TO_UM = 1e-3;

const CONTACTS: Record<Detector['contact'], LinearAttenuation> = { aluminium: ALUMINIUM, gold: GOLD };

const MATERIALS: Record<Exclude<Detector['window'], 'none'>, LinearAttenuation> = {
  polymer: POLYIMIDE,
  'silicon-nitride': SILICON_NITRIDE,
  beryllium: BERYLLIUM,
};

function windowTransmission(detector: Detector, energyEv: number, silicon: number): number {
  const { window, windowUm, aluminiumNm, openFraction, gridUm } = detector;
  if (window === 'none') return 1;
  const film = MATERIALS[window](energyEv) * windowUm;
  if (window === 'beryllium') return exp(-film);
  const coat = ALUMINIUM(energyEv) * aluminiumNm * NM_TO_UM;
  const grid = openFraction + (1 - openFraction) * exp(-silicon * gridUm);
  return exp(-film - coat) * grid;
}

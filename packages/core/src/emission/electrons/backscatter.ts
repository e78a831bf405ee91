import { exp } from '../../arithmetic/exponential.ts';
import { power } from '../../arithmetic/power.ts';

/**
 * Backscattered electrons per beam electron at normal incidence, from a mean atomic number.
 * Source: J.L. Pouchou, F. Pichoir in Electron Probe Quantitation (Plenum, 1991), p. 31.
 */
export function backscatterCoefficient(meanZ: number): number {
  return 0.00175 * meanZ + 0.37 * (1 - exp(-0.015 * power(meanZ, 1.3)));
}

/** Beam energy at which the measurements behind {@link backscatterCoefficient} cluster, keV. */
const REFERENCE_KEV = 20;
/** Beam energies that the power law was fitted to, keV. */
const POWER_LAW_KEV = { least: 4, most: 40 };

/**
 * The same at a beam energy: times (E / 20 keV)^m with m = 0.1382 - 0.9211 / sqrt Z, within 4 to 40 keV; outside, the value at the end.
 * Source of m: H.-J. Hunger, L. Küchler, Phys. Status Solidi A 56 (1979) K45, constants from memory.
 */
export function backscatterAt(meanZ: number, beamKev: number): number {
  const kev = Math.min(POWER_LAW_KEV.most, Math.max(POWER_LAW_KEV.least, beamKev));
  return backscatterCoefficient(meanZ) * power(kev / REFERENCE_KEV, 0.1382 - 0.9211 / Math.sqrt(meanZ));
}

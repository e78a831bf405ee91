import { log } from '../../arithmetic/exponential.ts';
import { power } from '../../arithmetic/power.ts';
import { atomicWeight } from '../../atomic/elements.ts';
import { ELECTRON_REST_EV } from './cross-section.ts';

/**
 * Stopping power of an element for electrons, eV cm2/g (positive).
 *
 * The logarithm is that of Joy & Luo, which stays meaningful down to a few tens of eV, with J after Berger & Seltzer 1964
 * (Z >= 13) and 11.5 eV Z below. Their prefactor 1/E is non-relativistic; it stands for 1/(m v2 / 2), so it is taken
 * times (1 + τ)2 / (1 + τ/2), τ = E/mc2. Without that factor the result lies 2 to 7 % below NIST ESTAR between 12.5 and
 * 30 keV; with it, within 3.5 % (median 1.1 %), but for H, He (8 to 11 %), Be, B, Ne and Na (4 to 7 %): see
 * tests/published/estar.test.ts.
 * Source: D.C. Joy, S. Luo, Scanning 11 (1989) 176.
 */
export function stoppingPower(z: number, energyEv: number): number {
  const j = meanIonisationEv(z);
  const k = 0.7307 + 0.0299 * log(z);
  return 2 * freeCollisions(z, energyEv) * log((1.166 * (energyEv + k * j)) / j);
}

/**
 * k of the rate k/ε2 at which an electron loses energy ε to electrons taken as free and at rest, per g/cm2 of an element,
 * eV cm2/g: 2 π e4 / (m v2) per electron.
 */
export function freeCollisions(z: number, energyEv: number): number {
  const tau = energyEv / ELECTRON_REST_EV;
  const relativistic = (1 + tau) ** 2 / (1 + tau / 2);
  return ((0.5 * PREFACTOR_EV2_CM2 * z) / (atomicWeight(z) * energyEv)) * relativistic;
}

/** 2 π N_A e4 of the Bethe formula: 78 500 keV2 cm2/mol in eV. */
const PREFACTOR_EV2_CM2 = 78500e6;

/** Mean ionisation energy J, eV. Source: M.J. Berger, S.M. Seltzer 1964, as used by Joy & Luo. */
function meanIonisationEv(z: number): number {
  return z >= 13 ? 9.76 * z + 58.5 * power(z, -0.19) : 11.5 * z;
}

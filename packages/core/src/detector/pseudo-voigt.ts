import { power } from '../arithmetic/power.ts';
import { FWHM_PER_SIGMA } from './resolution.ts';

/** A Voigt profile as a weighted sum of a Gaussian and a Lorentzian of one common width. */
export interface PseudoVoigt {
  /** Common full width at half maximum, eV. */
  readonly fwhm: number;
  /** Part of the area in the Lorentzian, 0 to 1. */
  readonly lorentzian: number;
}

/**
 * The pseudo-Voigt that stands for a Gaussian folded with a Lorentzian.
 * @param sigmaEv standard deviation of the Gaussian   @param naturalEv full width of the Lorentzian
 * Source: P. Thompson, D.E. Cox, J.B. Hastings, J. Appl. Cryst. 20 (1987) 79, as published.
 */
export function pseudoVoigt(sigmaEv: number, naturalEv: number): PseudoVoigt {
  const g = sigmaEv * FWHM_PER_SIGMA;
  const l = naturalEv;
  const sum = l * (l * (l * (l * (l + 0.07842 * g) + 4.47163 * g * g) + 2.42843 * g * g * g) + 2.69269 * g * g * g * g);
  const fwhm = power(sum + g * g * g * g * g, 0.2);
  const r = l / fwhm;
  return { fwhm, lorentzian: 1.36603 * r - 0.47719 * r * r + 0.11116 * r * r * r };
}

import { log1p } from '../../arithmetic/exponential.ts';
import type { DepthDistribution } from './depth-distribution.ts';

/**
 * Part of isotropic radiation that is born at the depths of phi(rho z), absorbed in a flat thick specimen, and whose
 * fluorescence leaves towards the detector: per photon, for each cm2/g of the absorbing process, all in g/cm2.
 *
 * Radiation born at depth z' crosses the plane at z with an effective path of E1(mu |z - z'|) / 2 per unit depth. With
 * E1(x) = integral of exp(-x t)/t from t = 1, the double integral over both depths of exp(-s z') E1(mu |z - z'|) exp(-chi z)
 * is [ln(1 + chi/mu)/chi + ln(1 + s/mu)/s] / (s + chi); phi is a sum of such exponentials, so no numerical integration is
 * left. With one exponential it is the form of S.J.B. Reed, Br. J. Appl. Phys. 16 (1965) 913, u = chi/mu, v = s/mu, without
 * Reed's empirical constant for s.
 */
export interface FluorescenceDepth {
  /** @param chi attenuation of the fluorescence / sin(take-off), cm2/g */
  leaving(chi: number): number;
}

/** @param attenuation of the exciting radiation in the specimen, cm2/g */
export function fluorescenceDepth(depth: DepthDistribution, attenuation: number): FluorescenceDepth {
  const { a, b, surface, amplitudeA, amplitudeB, generated } = depth;
  const mu = attenuation;
  const [atA, atB] = [meanLog(a, mu), meanLog(b, mu)];
  const slopeAtB = (atB - 1 / (mu + b)) / b; // minus the derivative of meanLog at b
  const half = 0.5 / generated;
  return {
    leaving(chi) {
      const atChi = meanLog(chi, mu);
      const [inverseA, inverseB] = [1 / (a + chi), 1 / (b + chi)];
      const single = surface - amplitudeA + amplitudeB * inverseB;
      return (
        half * (amplitudeA * (atChi + atA) * inverseA + (single * (atChi + atB) + amplitudeB * slopeAtB) * inverseB)
      );
    },
  };
}

/** ln(1 + x/mu) / x, cm2/g to the minus one; x above 0. */
function meanLog(x: number, mu: number): number {
  return log1p(x / mu) / x;
}

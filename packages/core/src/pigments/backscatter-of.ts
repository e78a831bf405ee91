import type { MassFractions } from '../atomic/composition.ts';
import { backscatterAt } from '../emission/electrons/backscatter.ts';
import { matrixMeans } from '../emission/thick/depth-distribution.ts';

/** How bright a material looks in the backscatter image: polished flat, normal incidence, thicker than the beam reaches. */
export interface Backscatter {
  /**
   * Square of the mass-fraction mean of sqrt Z, the mean that the coefficient's formula was made for.
   * Source: J.L. Pouchou, F. Pichoir in Electron Probe Quantitation (Plenum, 1991), p. 31.
   */
  readonly meanZ: number;
  readonly coefficient: number;
  /** Standard deviation of the coefficient by the formula and the rule for mixtures. */
  readonly model: number;
}

/** Published formulas differ by up to 0.022 (tests/published/backscatter-and-range.test.ts): half of that is taken as one standard deviation. */
const BETWEEN_FORMULAS = 0.011;

/** Backscatter coefficient of a composition. The mean of the elements' coefficients by mass is another rule: half the difference is doubt. */
export function backscatterOf(composition: MassFractions, beamKev: number): Backscatter {
  const meanZ = matrixMeans(composition).zBackscatter;
  const coefficient = backscatterAt(meanZ, beamKev);
  const otherRule = composition.reduce((sum, part, z) => (part > 0 ? sum + part * backscatterAt(z, beamKev) : sum), 0);
  return { meanZ, coefficient, model: Math.hypot(BETWEEN_FORMULAS, (coefficient - otherRule) / 2) };
}

import type { MassFractions } from '../atomic/composition.ts';
import { atomicWeight } from '../atomic/elements.ts';

/**
 * Depth that beam electrons reach, um, for a density in g/cm3. Reciprocal ranges add by mass fraction.
 * Source: K. Kanaya, S. Okayama, J. Phys. D 5 (1972) 43: R = 0.0276 A E^1.67 / (Z^0.889 rho), E in keV.
 */
export function electronRangeUm(matrix: MassFractions, densityGPerCm3: number, beamEv: number): number {
  let reciprocal = 0;
  for (let z = 1; z < matrix.length; z++) {
    if (matrix[z] > 0) reciprocal += (matrix[z] * z ** 0.889) / atomicWeight(z);
  }
  return (0.0276 * (beamEv / 1000) ** 1.67) / (reciprocal * densityGPerCm3);
}

/**
 * Depth down to which an edge is still excited, um, for a density in g/cm3; 0 where the beam does not reach the edge.
 * Source: C.A. Andersen, M.F. Hasler 1966 (constants from memory): 0.064 (E0^1.68 - Ec^1.68) / rho, keV.
 */
export function ionisationRangeUm(densityGPerCm3: number, beamEv: number, edge: number): number {
  if (!(beamEv > edge)) return 0;
  return (0.064 * ((beamEv / 1000) ** 1.68 - (edge / 1000) ** 1.68)) / densityGPerCm3;
}

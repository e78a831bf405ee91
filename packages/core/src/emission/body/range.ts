import { power } from '../../arithmetic/power.ts';
import type { MassFractions } from '../../atomic/composition.ts';
import { atomicWeight } from '../../atomic/elements.ts';
import type { Material } from './body.ts';

/** Exponent of energy in the range of Kanaya and Okayama. */
const POWER = 1.67;

/**
 * Depth that beam electrons reach, um, for a density in g/cm3. Reciprocal ranges add by mass fraction.
 * Source: K. Kanaya, S. Okayama, J. Phys. D 5 (1972) 43: R = 0.0276 A E^1.67 / (Z^0.889 rho), E in keV.
 */
export function electronRangeUm(matrix: MassFractions, densityGPerCm3: number, beamEv: number): number {
  return rangeAt1keV(matrix, densityGPerCm3) * power(beamEv / 1000, POWER);
}

function rangeAt1keV(matrix: MassFractions, densityGPerCm3: number): number {
  let reciprocal = 0;
  for (let z = 1; z < matrix.length; z++) {
    if (matrix[z] > 0) reciprocal += (matrix[z] * power(z, 0.889)) / atomicWeight(z);
  }
  return 0.0276 / (reciprocal * densityGPerCm3);
}

/**
 * Depth down to which an edge is still excited, um, for a density in g/cm3; 0 where the beam does not reach the edge.
 * Source: C.A. Andersen, M.F. Hasler 1966 (constants from memory): 0.064 (E0^1.68 - Ec^1.68) / rho, keV.
 */
export function ionisationRangeUm(densityGPerCm3: number, beamEv: number, edge: number): number {
  if (!(beamEv > edge)) return 0;
  return (0.064 * (power(beamEv / 1000, 1.68) - power(edge / 1000, 1.68))) / densityGPerCm3;
}

/** Whether a beam on the middle of a grain stays in it. */
export interface GrainReach {
  readonly electronRangeUm: number;
  /** The range is no longer than the grain is deep. */
  readonly inside: boolean;
  /** Beam energy, keV, at which the range is exactly the grain's depth. */
  readonly highestBeamKev: number;
}

/**
 * Whether the beam stays in a grain, by the electron range, which is on the safe side: see tests/published/grain.test.ts
 * for what still comes from around the grain. The grain is as deep as the range may be, and as wide to each side.
 * @param diameterUm of a grain that the face cuts through its middle: it is half as deep
 */
export function grainReach(grain: Material, diameterUm: number, beamEv: number): GrainReach {
  const depthUm = diameterUm / 2;
  const unit = rangeAt1keV(grain.composition, grain.densityGPerCm3);
  const range = unit * power(beamEv / 1000, POWER);
  return { electronRangeUm: range, inside: range <= depthUm, highestBeamKev: power(depthUm / unit, 1 / POWER) };
}

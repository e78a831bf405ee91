import { massAttenuation, matrixAttenuation } from '../atomic/attenuation.ts';
import { massFractionsOf } from '../atomic/composition.ts';

const UM_TO_CM = 1e-4;

/** Linear attenuation coefficient of a layer material at an energy in eV, 1/um. */
export type LinearAttenuation = (energyEv: number) => number;

function compound(formula: string, densityGPerCm3: number): LinearAttenuation {
  const fractions = massFractionsOf(formula);
  return (energyEv) => matrixAttenuation(fractions, energyEv) * densityGPerCm3 * UM_TO_CM;
}

function element(z: number, densityGPerCm3: number): LinearAttenuation {
  return (energyEv) => massAttenuation(z, energyEv) * densityGPerCm3 * UM_TO_CM;
}

// Densities in g/cm3 at room temperature, handbook values from memory; deposited silicon nitride varies from 2.8 to 3.2.
export const POLYIMIDE = compound('C22H10N2O5', 1.42);
export const SILICON_NITRIDE_DENSITY = 3.17;
export const SILICON_NITRIDE = compound('Si3N4', SILICON_NITRIDE_DENSITY);
export const BERYLLIUM = element(4, 1.848);
export const ALUMINIUM = element(13, 2.699);
export const GOLD = element(79, 19.3);
/** Amorphous carbon as the beam deposits it; 1.8 to 2.2 are found. */
export const CARBON = element(6, 2);
export const SILICON_DENSITY = 2.329;
export const SILICON = element(14, SILICON_DENSITY);
/** Hexagonal ice at 0 C. */
export const ICE = compound('H2O', 0.917);

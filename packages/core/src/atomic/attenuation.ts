import { exp, log } from '../arithmetic/exponential.ts';
import { numbers } from './columns.ts';
import type { MassFractions } from './composition.ts';
import { MAX_Z } from './elements.ts';
import tables from './tables.json' with { type: 'json' };

const Z = numbers(tables.attenuation.z);
const LN_E = numbers(tables.attenuation.energyEv).map(log);
const LN_MU = numbers(tables.attenuation.cm2PerG).map(log);
const FIRST = firstRows();

/**
 * Total mass attenuation coefficient (photo-absorption and scattering), cm2/g. Straight line in ln-ln between the points of
 * data/atomic/attenuation.csv (10 % apart or closer, a pair at each edge); outside 30 eV to 50 keV the end segment goes on.
 * Source: xraylib 4.0.0.
 * @throws RangeError for an unknown element
 */
export function massAttenuation(z: number, energyEv: number): number {
  if (!(z >= 1 && z <= MAX_Z)) throw new RangeError(`No attenuation for atomic number ${z}.`);
  return exp(lnAttenuation(z, log(energyEv)));
}

/** Mass attenuation coefficient of a mixture: the mass-fraction mean, cm2/g. */
export function matrixAttenuation(fractions: MassFractions, energyEv: number): number {
  const lnEnergy = log(energyEv);
  let sum = 0;
  for (let z = 1; z < fractions.length; z++) {
    const fraction = fractions[z];
    if (fraction > 0) sum += fraction * exp(lnAttenuation(z, lnEnergy));
  }
  return sum;
}

function lnAttenuation(z: number, lnEnergy: number): number {
  let [low, high] = [FIRST[z], FIRST[z + 1] - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (LN_E[middle] <= lnEnergy) low = middle;
    else high = middle;
  }
  const slope = (LN_MU[high] - LN_MU[low]) / (LN_E[high] - LN_E[low]);
  return LN_MU[low] + slope * (lnEnergy - LN_E[low]);
}

function firstRows(): Uint32Array {
  const first = new Uint32Array(MAX_Z + 2);
  for (const z of Z) first[z + 1]++;
  for (let i = 1; i < first.length; i++) first[i] += first[i - 1];
  return first;
}

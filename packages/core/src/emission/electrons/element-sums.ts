import { MAX_Z } from '../../atomic/elements.ts';

/**
 * Sums over elements of something that each has at given energies, worked out when an element is first needed.
 * @returns from weights by atomic number to a sum per energy
 */
export function elementSums(
  energiesEv: Float64Array,
  of: (z: number, energyEv: number) => number,
): (weights: Float64Array) => Float64Array {
  const rows = new Array<Float64Array | undefined>(MAX_Z + 1);
  return (weights) => {
    const sum = new Float64Array(energiesEv.length);
    for (let z = 1; z < weights.length; z++) {
      if (!(weights[z] > 0)) continue;
      const own = (rows[z] ??= rowOf(z, energiesEv, of));
      for (let k = 0; k < own.length; k++) sum[k] += weights[z] * own[k];
    }
    return sum;
  };
}

function rowOf(z: number, energiesEv: Float64Array, of: (z: number, energyEv: number) => number): Float64Array {
  const row = new Float64Array(energiesEv.length);
  for (let k = 0; k < row.length; k++) row[k] = of(z, energiesEv[k]);
  return row;
}

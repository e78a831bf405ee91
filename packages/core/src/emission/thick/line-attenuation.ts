import { massAttenuation } from '../../atomic/attenuation.ts';
import type { MassFractions } from '../../atomic/composition.ts';
import { MAX_Z } from '../../atomic/elements.ts';
import { LINE_TABLE } from '../../atomic/lines.ts';

/** Mass attenuation of each element at every line energy, cm2/g; a row is filled when first asked for (pure look-up table). */
const ROWS = new Array<Float64Array | undefined>(MAX_Z + 1);

/** Mass attenuation of an element at the energy of every line, cm2/g, in the order of LINE_TABLE. Do not change it. */
export function lineAttenuation(z: number): Float64Array {
  return (ROWS[z] ??= LINE_TABLE.energyEv.map((energy) => massAttenuation(z, energy)));
}

/** Mass attenuation of a matrix at the energy of every line, cm2/g, in the order of LINE_TABLE. */
export function matrixLineAttenuation(matrix: MassFractions): Float64Array {
  const total = new Float64Array(LINE_TABLE.count);
  for (let z = 1; z < matrix.length; z++) {
    const fraction = matrix[z];
    if (!(fraction > 0)) continue;
    const own = lineAttenuation(z);
    for (let i = 0; i < own.length; i++) total[i] += fraction * own[i];
  }
  return total;
}

import { expm1 } from '../../arithmetic/exponential.ts';
import { matrixAttenuation } from '../../atomic/attenuation.ts';
import type { MassFractions } from '../../atomic/composition.ts';
import { LINE_TABLE } from '../../atomic/lines.ts';
import { edgeEv } from '../../atomic/shells.ts';
import type { Emission } from '../thick/characteristic.ts';
import { emergingFraction, type MatrixMeans, matrixMeans } from '../thick/depth-distribution.ts';
import { type GeneratedLines, generatedLines } from '../thick/generated-lines.ts';
import { matrixLineAttenuation } from '../thick/line-attenuation.ts';
import type { SlowingDown } from '../electrons/slowing-down.ts';

/** A material of a body as a thick specimen of its own: what its parts are worked out from. */
export interface Matter {
  readonly composition: MassFractions;
  readonly means: MatrixMeans;
  /** chi = (mu/rho) / sin(take-off) of every line, cm2/g. */
  readonly chi: Float64Array;
  /** What an element generates in it per unit mass fraction, without fluorescence; kept. */
  generated(z: number): GeneratedLines;
  /**
   * Photons of a line by fluorescence for each one by electrons. Of the thick specimen, times the part that a layer of a mass
   * per area, g/cm2, keeps: roughly what it absorbs of photons a little above the edge, half of which go up.
   */
  fluorescence(line: number, massThickness: number): number;
}

/** What depends on beam and angle alone. */
export interface BodyBeam {
  readonly emission: Emission;
  readonly slowing: SlowingDown;
  /** Factor from (mu/rho) to chi. */
  readonly pathFactor: number;
}

/** Typical energy of photons that excite an edge, in units of it. */
const EXCITING = 1.2;

export function createMatter(composition: MassFractions, { emission, slowing, pathFactor }: BodyBeam): Matter {
  const means = matrixMeans(composition);
  const reciprocal = slowing.reciprocalStopping(composition);
  const chi = matrixLineAttenuation(composition).map((attenuation) => attenuation * pathFactor);
  const generated = kept((z) => generatedLines(z, emission.beamEv, means, slowing, reciprocal));
  const present = Uint8Array.from(composition, (fraction) => (fraction > 0 ? 1 : 0));
  const all = emission.lines(composition, present);
  return {
    composition,
    means,
    chi,
    generated,
    fluorescence(line, massThickness) {
      const [z, s] = [LINE_TABLE.z[line], LINE_TABLE.subshell[line]];
      const { photons, depths } = generated(z);
      const depth = depths[s];
      if (depth === undefined || !(photons[s] > 0)) return 0;
      const direct = photons[s] * LINE_TABLE.relative[line] * emergingFraction(depth, chi[line]);
      const layers = 2 * matrixAttenuation(composition, EXCITING * edgeEv(z, s)) * massThickness;
      return Math.max(0, all[line] / direct - 1) * -expm1(-layers);
    },
  };
}

function kept<Value>(make: (z: number) => Value): (z: number) => Value {
  const values = new Map<number, Value>();
  return (z) => {
    let value = values.get(z);
    if (value === undefined) values.set(z, (value = make(z)));
    return value;
  };
}

import { edgeEv, fluorescenceYield, SUBSHELLS } from '../../atomic/shells.ts';
import {
  crossSectionExponent,
  type DepthDistribution,
  depthDistribution,
  type MatrixMeans,
} from './depth-distribution.ts';
import type { SlowingDown } from '../electrons/slowing-down.ts';
import { redistribute } from '../electrons/vacancies.ts';
import { stretch } from '../../arithmetic/stretch.ts';

/** What beam electrons make an element of a thick specimen generate. */
export interface GeneratedLines {
  /** Photons of each subshell (all its lines, length 9) per beam electron, steradian and unit mass fraction. */
  readonly photons: Float64Array;
  /** Depths where they are born; undefined where the subshell is not excited. */
  readonly depths: readonly (DepthDistribution | undefined)[];
}

/** @param reciprocalStopping of the specimen, from `slowing` */
export function generatedLines(
  z: number,
  beamEv: number,
  means: MatrixMeans,
  slowing: SlowingDown,
  reciprocalStopping: Float64Array,
): GeneratedLines {
  const photons = stretch(SUBSHELLS.length);
  const depths = new Array<DepthDistribution | undefined>(SUBSHELLS.length);
  for (let s = 0; s < SUBSHELLS.length; s++) {
    const edge = edgeEv(z, s);
    if (!(edge < beamEv)) continue;
    const depth = depthDistribution(means, beamEv / 1000, edge / 1000, crossSectionExponent(z, s));
    depths[s] = depth;
    photons[s] = depth.backscatterLoss * slowing.ionisations(z, s, reciprocalStopping);
  }
  redistribute(photons, z);
  for (let s = 0; s < SUBSHELLS.length; s++) photons[s] *= fluorescenceYield(z, s) / (4 * Math.PI);
  return { photons, depths };
}

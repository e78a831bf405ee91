import type { MassFractions } from '../atomic/composition.ts';
import { LINE_TABLE } from '../atomic/lines.ts';
import { edgeEv, fluorescenceYield, SUBSHELLS } from '../atomic/shells.ts';
import { createContinuum } from './continuum.ts';
import {
  crossSectionExponent,
  depthDistribution,
  type DepthDistribution,
  emergingFraction,
  type MatrixMeans,
  matrixMeans,
} from './depth-distribution.ts';
import { matrixLineAttenuation } from './line-attenuation.ts';
import { createSlowingDown, type SlowingDown } from './slowing-down.ts';
import { redistribute } from './vacancies.ts';

/** What a flat, thick specimen sends towards the detector under one beam, normal incidence. */
export interface Emission {
  readonly beamEv: number;
  readonly takeOffDeg: number;
  /**
   * Photons per beam electron and steradian that leave the specimen, per unit mass fraction of the line's element, for
   * every line of LINE_TABLE; also for elements that are not in the matrix (they are traces in it). 0 where not excited.
   * @param wanted by atomic number, 0 to skip an element; all when left out
   */
  lines(matrix: MassFractions, wanted?: Uint8Array): Float64Array;
  /** Continuum photons per beam electron, steradian and eV that leave the specimen, at ascending energies. */
  continuum(matrix: MassFractions, energiesEv: Float64Array): Float64Array;
}

export interface EmissionOptions {
  /** Factor on all attenuation coefficients of the specimen, to see what their uncertainty does; 1. */
  readonly attenuation?: number;
}

/**
 * Emission under one beam energy and take-off angle (of the line of sight above the surface). Tables that depend on the
 * beam alone are made once and kept, so make one and use it for many matrices.
 * Not included: fluorescence excited by other lines or by the continuum; tilt; layers, grains smaller than the range.
 * @throws RangeError for a beam of 0 or less or an angle outside 0 to 90 degrees
 */
export function createEmission(beamEv: number, takeOffDeg: number, options: EmissionOptions = {}): Emission {
  if (!(beamEv > 0 && beamEv < 1e6)) throw new RangeError(`A beam energy of ${beamEv} eV makes no sense here.`);
  if (!(takeOffDeg > 0 && takeOffDeg <= 90))
    throw new RangeError(`The take-off angle ${takeOffDeg} is not in 0 to 90 degrees.`);
  const slowing = createSlowingDown(beamEv);
  const pathFactor = (options.attenuation ?? 1) / Math.sin((takeOffDeg * Math.PI) / 180);
  return {
    beamEv,
    takeOffDeg,
    lines: (matrix, wanted) => emit(matrix, wanted, beamEv, pathFactor, slowing),
    continuum: createContinuum(beamEv, pathFactor),
  };
}

/** {@link Emission.lines} for a single use. */
export function emittedLines(matrix: MassFractions, beamEv: number, takeOffDeg: number): Float64Array {
  return createEmission(beamEv, takeOffDeg).lines(matrix);
}

function emit(
  matrix: MassFractions,
  wanted: Uint8Array | undefined,
  beamEv: number,
  pathFactor: number,
  slowing: SlowingDown,
): Float64Array {
  const out = new Float64Array(LINE_TABLE.count);
  const means = matrixMeans(matrix);
  const reciprocal = slowing.reciprocalStopping(matrix);
  const attenuation = matrixLineAttenuation(matrix);
  for (let z = 1; z + 1 < LINE_TABLE.first.length; z++) {
    if (wanted !== undefined && !wanted[z]) continue;
    const [from, to] = [LINE_TABLE.first[z], LINE_TABLE.first[z + 1]];
    if (from === to) continue;
    const { vacancies, depths } = subshellsOf(z, beamEv, means, reciprocal, slowing);
    for (let i = from; i < to; i++) {
      const s = LINE_TABLE.subshell[i];
      const depth = depths[s];
      if (depth === undefined) continue;
      out[i] = vacancies[s] * LINE_TABLE.relative[i] * emergingFraction(depth, attenuation[i] * pathFactor);
    }
  }
  return out;
}

/** Photons per steradian generated in each subshell of an element (all its lines), and at what depths. */
function subshellsOf(
  z: number,
  beamEv: number,
  means: MatrixMeans,
  reciprocal: Float64Array,
  slowing: SlowingDown,
): { vacancies: Float64Array; depths: (DepthDistribution | undefined)[] } {
  const vacancies = new Float64Array(SUBSHELLS.length);
  const depths = new Array<DepthDistribution | undefined>(SUBSHELLS.length);
  for (let s = 0; s < SUBSHELLS.length; s++) {
    const edge = edgeEv(z, s);
    if (!(edge < beamEv)) continue;
    const depth = depthDistribution(means, beamEv / 1000, edge / 1000, crossSectionExponent(z, s));
    depths[s] = depth;
    vacancies[s] = depth.backscatterLoss * slowing.ionisations(z, s, reciprocal);
  }
  redistribute(vacancies, z);
  for (let s = 0; s < SUBSHELLS.length; s++) vacancies[s] *= fluorescenceYield(z, s) / (4 * Math.PI);
  return { vacancies, depths };
}

import { sin } from '../../arithmetic/angle.ts';
import type { MassFractions } from '../../atomic/composition.ts';
import { MAX_Z } from '../../atomic/elements.ts';
import { LINE_TABLE } from '../../atomic/lines.ts';
import { SUBSHELLS } from '../../atomic/shells.ts';
import { type Continua, createContinua } from './continuum.ts';
import { emergingFraction, matrixMeans } from './depth-distribution.ts';
import { createFluorescence, type Fluorescence } from './fluorescence.ts';
import { type GeneratedLines, generatedLines } from './generated-lines.ts';
import { keepLast } from './keep-last.ts';
import { matrixLineAttenuation } from './line-attenuation.ts';
import { createSlowingDown, type SlowingDown } from '../electrons/slowing-down.ts';
import { stretch } from '../../arithmetic/stretch.ts';

/** Elements below this mass fraction excite nothing worth having in others (well under 0.5 %). */
const LEAST_EXCITING_FRACTION = 0.005;

/** What a flat, thick specimen sends towards the detector under one beam, normal incidence. */
export interface Emission {
  readonly beamEv: number;
  readonly takeOffDeg: number;
  /**
   * Photons per beam electron and steradian that leave the specimen, per unit mass fraction of the line's element, for
   * every line of LINE_TABLE; also for elements that are not in the matrix (they are traces in it). 0 where not excited.
   * @param wanted by atomic number, 0 to skip an element; all when left out
   * @param out where they go: zeros, one for each line
   */
  lines(matrix: MassFractions, wanted?: Uint8Array, out?: Float64Array): Float64Array;
  /** Continuum photons per beam electron, steradian and eV that leave the specimen, at ascending energies. */
  continuum(matrix: MassFractions, energiesEv: Float64Array): Float64Array;
  /** The same for several factors on the attenuation in the specimen. */
  readonly continua: Continua;
}

export interface EmissionOptions {
  /** Factor on all attenuation coefficients of the specimen, to see what their uncertainty does; 1. */
  readonly attenuation?: number;
}

/**
 * Emission under one beam energy and take-off angle (of the line of sight above the surface). Tables that depend on the
 * beam alone are made once and kept, so make one and use it for many matrices. Fluorescence excited by the specimen's
 * lines and continuum is included, as one factor for all lines of a subshell. Not included: tilt; layers, grains smaller
 * than the range.
 * @throws RangeError for a beam of 0 or less or an angle outside 0 to 90 degrees
 */
export function createEmission(beamEv: number, takeOffDeg: number, options: EmissionOptions = {}): Emission {
  if (!(beamEv > 0 && beamEv < 1e6))
    throw new RangeError(`The beam energy must be above 0 and below 1 MeV, not ${beamEv} eV.`);
  if (!(takeOffDeg > 0 && takeOffDeg <= 90))
    throw new RangeError(`The take-off angle must be above 0 and up to 90 degrees, not ${takeOffDeg}.`);
  const attenuation = options.attenuation ?? 1;
  const pathFactor = attenuation / sin((takeOffDeg * Math.PI) / 180);
  const beam = {
    ev: beamEv,
    slowing: createSlowingDown(beamEv),
    fluorescence: createFluorescence(beamEv, attenuation),
  };
  const continua = createContinua(beamEv, pathFactor);
  const from = keepLast((matrix) => linesFrom(matrix, beam, pathFactor));
  return {
    beamEv,
    takeOffDeg,
    lines: (matrix, wanted, out = new Float64Array(LINE_TABLE.count)) => from(matrix)(out, wanted),
    continuum: (matrix, energiesEv) => continua(matrix, energiesEv, [1])[0],
    continua,
  };
}

/**
 * Photons of every line per beam electron and steradian that leave a flat, thick specimen, per unit mass fraction of the line's element.
 * @param matrix mass fraction by atomic number; sum 1. Elements that are not in it are taken as traces
 * @param beamEv beam energy, eV
 * @param takeOffDeg take-off angle, degrees above the surface
 * @returns one value per row of `LINE_TABLE`; 0 where not excited
 * @throws RangeError for a beam or an angle out of range
 */
export function emittedLines(matrix: MassFractions, beamEv: number, takeOffDeg: number): Float64Array {
  return createEmission(beamEv, takeOffDeg).lines(matrix);
}

/** What depends on the beam alone. */
interface Beam {
  readonly ev: number;
  readonly slowing: SlowingDown;
  readonly fluorescence: Fluorescence;
}

/** What one matrix emits: {@link Emission.lines}, each element worked out when first wanted. */
function linesFrom(
  matrix: MassFractions,
  beam: Beam,
  pathFactor: number,
): (out: Float64Array, wanted?: Uint8Array) => Float64Array {
  const all = new Float64Array(LINE_TABLE.count);
  const known = new Uint8Array(LINE_TABLE.first.length);
  const add = elementLines(matrix, beam, pathFactor);
  return (out, wanted) => {
    for (let z = 1; z + 1 < LINE_TABLE.first.length; z++) {
      const [from, to] = [LINE_TABLE.first[z], LINE_TABLE.first[z + 1]];
      if (from === to || (wanted !== undefined && !wanted[z])) continue;
      if (!known[z]) add(all, z);
      known[z] = 1;
      for (let i = from; i < to; i++) out[i] = all[i];
    }
    return out;
  };
}

/** Puts the lines of one element of a matrix, or of a trace in it, into their places. */
function elementLines(matrix: MassFractions, beam: Beam, pathFactor: number): (out: Float64Array, z: number) => void {
  const means = matrixMeans(matrix);
  const reciprocal = beam.slowing.reciprocalStopping(matrix);
  const attenuation = matrixLineAttenuation(matrix);
  const generate = (z: number): GeneratedLines => generatedLines(z, beam.ev, means, beam.slowing, reciprocal);
  const strong = new Map<number, GeneratedLines>();
  for (let z = 0; z < matrix.length; z++) if (matrix[z] > LEAST_EXCITING_FRACTION) strong.set(z, generate(z));
  const exciting = beam.fluorescence.exciting(matrix, means, strong, attenuation);
  return (out, z) => {
    const { photons, depths } = strong.get(z) ?? generate(z);
    const chi = chiOfSubshells(z, attenuation, pathFactor);
    const fluorescence = stretch(SUBSHELLS.length);
    beam.fluorescence.add(fluorescence, z, chi, photons, exciting);
    const all = stretch(SUBSHELLS.length);
    for (let s = 0; s < all.length; s++) {
      const depth = depths[s];
      if (depth !== undefined) all[s] = photons[s] + fluorescence[s] / emergingFraction(depth, chi[s]);
    }
    for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) {
      const s = LINE_TABLE.subshell[i];
      const depth = depths[s];
      if (depth === undefined) continue;
      out[i] = all[s] * LINE_TABLE.relative[i] * emergingFraction(depth, attenuation[i] * pathFactor);
    }
  };
}

/** Attenuation of the strongest line of each subshell / sin(take-off), cm2/g; 0 where there is no line. */
function chiOfSubshells(z: number, attenuation: Float64Array, pathFactor: number): Float64Array {
  const chi = stretch(SUBSHELLS.length);
  for (let s = 0; s < chi.length; s++) {
    const main = STRONGEST[z * SUBSHELLS.length + s];
    if (main >= 0) chi[s] = attenuation[main] * pathFactor;
  }
  return chi;
}

/** Row of the strongest line of each [z][subshell], -1 where there is none. */
const STRONGEST = strongestLines();

function strongestLines(): Int16Array {
  const rows = new Int16Array((MAX_Z + 1) * SUBSHELLS.length).fill(-1);
  LINE_TABLE.relative.forEach((relative, i) => {
    const place = LINE_TABLE.z[i] * SUBSHELLS.length + LINE_TABLE.subshell[i];
    if (rows[place] < 0 || relative > LINE_TABLE.relative[rows[place]]) rows[place] = i;
  });
  return rows;
}

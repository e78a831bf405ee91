import { massAttenuation } from '../atomic/attenuation.ts';
import type { MassFractions } from '../atomic/composition.ts';
import { MAX_Z } from '../atomic/elements.ts';
import { crossSectionExponent, depthDistribution, emergingFraction, matrixMeans } from './depth-distribution.ts';

/**
 * Photons per electron, steradian and keV for one unit of the published formula, whose own units are arbitrary. Chosen so
 * that the energy radiated into 4 pi is 1.4e-6 Z E0/keV of the electron's energy (P. Kirkpatrick, L. Wiedmann, Phys. Rev. 67
 * (1945) 321), mean over Z = 6 to 82 and E0 = 10 to 25 keV. Single cases of that range lie within 11 % of the mean; what
 * the published fraction itself is uncertain by (10 to 30 %) comes on top and enters every peak-to-background ratio. Three
 * measured spectra at 15 kV (Cu, GaAs, ZnO) have 12 to 25 % less continuum under their K lines than this scale gives.
 */
export const PHOTONS_PER_UNIT = 2.67e-8;

/** Ratio of neighbouring energies of the grid: 0.4 %, finer than a silicon detector resolves. */
const STEP = 1.004;
/** Lowest photon energy of the grid, eV; below it the continuum is taken as 0. */
const LOWEST_EV = 40;
/**
 * Outside what the formula was fitted to, two of its factors would fall below 0: the soft-photon factor for heavy elements at
 * low beam energy, the other for carbon near the end point at 25 keV. They are held at these parts of their full value.
 */
const LEAST_SOFT_FACTOR = 0.3;
const LEAST_HARD_FACTOR = 0.1;

/**
 * Continuum photons generated per electron, steradian and keV in a thick specimen of (mean) atomic number z.
 * Source: G. Castellano, J. Osan, J. Trincavelli, Spectrochim. Acta B 59 (2004) 313, constants from memory; the independent
 * formula of 1998 agrees within 9 % (tests/published/continuum.test.ts).
 */
export function generatedContinuum(z: number, photonKev: number, beamKev: number): number {
  if (!(photonKev < beamKev)) return 0;
  const full = -73.9 + 36.502 * Math.log(z) + (148.5 * beamKev ** 0.1293) / z;
  const shape = Math.max(LEAST_HARD_FACTOR * full, full - 1.2446 * photonKev);
  const soft = 1 + ((-0.006624 + 0.0002906 * beamKev) * z) / photonKev;
  const kramers = (Math.sqrt(z) * (beamKev - photonKev)) / photonKev;
  return PHOTONS_PER_UNIT * kramers * shape * Math.max(LEAST_SOFT_FACTOR, soft);
}

/**
 * Continuum that leaves the specimen, photons per electron, steradian and eV, as a function of the matrix and energies.
 * The formula, which is of generated photons, is taken at the mass-fraction mean of Z; loss by backscatter and absorption
 * follow the depth distribution of an edge of the photon's own energy. Worked out on one grid of energies and interpolated.
 */
export function createContinuum(
  beamEv: number,
  pathFactor: number,
): (matrix: MassFractions, energiesEv: Float64Array) => Float64Array {
  const grid = energyGrid(beamEv);
  const rows = new Array<Float64Array | undefined>(MAX_Z + 1);
  return (matrix, energiesEv) => {
    const attenuation = new Float64Array(grid.length);
    for (let z = 1; z < matrix.length; z++) {
      if (!(matrix[z] > 0)) continue;
      const own = (rows[z] ??= grid.map((energy) => massAttenuation(z, energy)));
      for (let k = 0; k < own.length; k++) attenuation[k] += matrix[z] * own[k];
    }
    const emitted = emittedOn(grid, matrix, attenuation, beamEv / 1000, pathFactor);
    return energiesEv.map((energy) => interpolate(grid, emitted, energy));
  };
}

/** {@link createContinuum} for a single use; angle of the line of sight above the surface, degrees. */
export function emittedContinuum(
  matrix: MassFractions,
  beamEv: number,
  takeOffDeg: number,
  energiesEv: Float64Array,
): Float64Array {
  return createContinuum(beamEv, 1 / Math.sin((takeOffDeg * Math.PI) / 180))(matrix, energiesEv);
}

function emittedOn(
  grid: Float64Array,
  matrix: MassFractions,
  attenuation: Float64Array,
  beamKev: number,
  pathFactor: number,
): Float64Array {
  const means = matrixMeans(matrix);
  const exponent = crossSectionExponent(means.z, 0);
  return grid.map((energy, k) => {
    const photonKev = energy / 1000;
    if (photonKev >= beamKev) return 0;
    const depth = depthDistribution(means, beamKev, photonKev, exponent);
    const leaving = depth.backscatterLoss * emergingFraction(depth, attenuation[k] * pathFactor);
    return (generatedContinuum(means.z, photonKev, beamKev) * leaving) / 1000;
  });
}

/** Ascending to exactly the beam energy, evenly spaced in ln E. */
function energyGrid(beamEv: number): Float64Array {
  const count = Math.max(2, Math.ceil(Math.log(beamEv / LOWEST_EV) / Math.log(STEP)) + 1);
  return Float64Array.from({ length: count }, (_, k) => beamEv * STEP ** (k - count + 1));
}

function interpolate(grid: Float64Array, values: Float64Array, energy: number): number {
  const last = grid.length - 1;
  const position = last + Math.log(energy / grid[last]) / Math.log(STEP);
  if (!(position >= 0) || energy >= grid[last]) return 0;
  const k = Math.min(last - 1, Math.floor(position));
  return values[k] + ((values[k + 1] - values[k]) * (energy - grid[k])) / (grid[k + 1] - grid[k]);
}

import { log } from '../../arithmetic/exponential.ts';
import { Scratch } from '../../arithmetic/scratch.ts';
import { power } from '../../arithmetic/power.ts';
import { normalise } from '../../arithmetic/sum.ts';
import { massAttenuation } from '../../atomic/attenuation.ts';
import type { MassFractions } from '../../atomic/composition.ts';
import {
  blankDistribution,
  crossSectionExponent,
  depthDistribution,
  emergingFraction,
  matrixMeans,
} from './depth-distribution.ts';
import { keepLast } from './keep-last.ts';
import { elementSums } from '../electrons/element-sums.ts';
import { stoppingPower } from '../electrons/stopping.ts';
import { hardShare, meanPathExcess } from '../electrons/straggling.ts';

/**
 * Photons per electron, steradian and keV for one unit of the published formula, whose own units are arbitrary. It stands
 * between two references for the energy radiated into 4 pi, both without loss by backscatter, means over Z = 6 to 82:
 * 2 % above 1.4e-6 Z E0/keV of the electron's energy (P. Kirkpatrick, L. Wiedmann, Phys. Rev. 67 (1945) 321), 4 % below the
 * stopping powers of NIST ESTAR (10 % for Al and Si). Single elements lie within 12 % (tests/published/continuum.test.ts).
 * What else bears on it:
 * - Thick-target spectra summed from the photon shapes of Kirkpatrick & Wiedmann, scaled to ESTAR and slowed down as here, lie
 *   within 7 % of this from 2 to 14 keV for Al to Cu at 10 to 25 kV, 25 to 35 % above it at 1 keV.
 * - Measured / modelled continuum against lines, in clear regions from 2 keV to the end: bulk Cu at 15 kV 0.96 (Cu K); zinc white in
 *   oil at 15 kV 0.88 (Zn K); GaAs at 15 kV 0.84 (Ga K), 0.97 (Ga L), at 5 kV 1.06 (Ga L); glasses at 20 kV 1.06 to 1.16 (Ca K, 2.9 to 6
 *   keV). Mean 1.0: the scale stays, with a standard uncertainty of 10 %. Flat within 3 % over energy in metals and GaAs; rising by
 *   some 8 % from 3 to 7 keV in glass. Ash (10 kV) charges up: its continuum ends at 8 to 9.5 keV and says nothing here.
 */
export const PHOTONS_PER_UNIT = 2.67e-8;

/** Ratio of neighbouring energies of the grid: 0.4 %, finer than a silicon detector resolves. */
const STEP = 1.004;
const LN_STEP = log(STEP);
/** Lowest photon energy of the grid, eV; below it the continuum is taken as 0. */
const LOWEST_EV = 40;
/**
 * Outside what the formula was fitted to, two of its factors would fall below 0. The one for soft photons of heavy elements is
 * held below this photon energy, keV: farther down it would bend the continuum of Au at 5 kV to nothing at 0.4 keV, where
 * photon shapes (Kirkpatrick & Wiedmann 1945) go on rising. The other, for carbon near the end point at 25 keV, is held at
 * this part of its full value.
 */
const SOFT_FROM_KEV = 1;
const LEAST_HARD_FACTOR = 0.1;
/** Below carbon the formula would rise again towards hydrogen; there the continuum goes with Z (Kirkpatrick & Wiedmann 1945). */
const LIGHTEST_OF_FORMULA = 6;

/**
 * Continuum photons generated per electron, steradian and keV in a thick specimen of an element, backscatter not counted.
 * Source: G. Castellano, J. Osan, J. Trincavelli, Spectrochim. Acta B 59 (2004) 313, constants from memory; the independent
 * formula of 1998 agrees within 9 % (tests/published/continuum.test.ts).
 */
export function generatedContinuum(z: number, photonKev: number, beamKev: number): number {
  if (!(photonKev < beamKev)) return 0;
  if (z < LIGHTEST_OF_FORMULA)
    return (z / LIGHTEST_OF_FORMULA) * generatedContinuum(LIGHTEST_OF_FORMULA, photonKev, beamKev);
  const full = -73.9 + 36.502 * log(z) + (148.5 * power(beamKev, 0.1293)) / z;
  const shape = Math.max(LEAST_HARD_FACTOR * full, full - 1.2446 * photonKev);
  const soft = 1 + ((-0.006624 + 0.0002906 * beamKev) * z) / Math.max(photonKev, SOFT_FROM_KEV);
  const kramers = (Math.sqrt(z) * (beamKev - photonKev)) / photonKev;
  return PHOTONS_PER_UNIT * kramers * shape * soft;
}

/**
 * Part that each element has in the stopping of the beam: by it the continuum of a mixture is the sum of its elements' own.
 * An element radiates in proportion to its mass on the electron's path, which the stopping power of the whole cuts short; with
 * N_i of the pure element that is N = sum C_i S_i N_i / sum C_j S_j (exact where stopping powers add by mass, Bragg's rule).
 * Nearly the electron fraction, which measurements favour over the mass fraction (J.J. Donovan et al. 2002, 2023, abstracts): a
 * formula taken at the mass-fraction mean of Z gives a quarter more for lead white, 80 % more for equal masses of it and oil.
 */
export function stoppingShares(matrix: MassFractions, beamEv: number): Float64Array {
  const shares = new Float64Array(matrix.length);
  for (let z = 0; z < shares.length; z++)
    if (matrix[z] > 0) shares[z] = matrix[z] * stoppingPower(z, MEAN_ENERGY * beamEv);
  return normalise(shares);
}

/** Energy at which shares of stopping are taken, as part of the beam energy; they change by 3 % over the whole path. */
const MEAN_ENERGY = 0.7;

/**
 * Continuum under one beam: photons per electron, steradian and eV that leave a matrix at ascending energies, once for each
 * factor on the attenuation coefficients (depths do not depend on it, and are worked out once).
 */
export type Continua = (
  matrix: MassFractions,
  energiesEv: Float64Array,
  attenuationFactors: readonly number[],
) => Float64Array[];

/**
 * Continuum that leaves the specimen, as a function of the matrix and energies.
 * Generated photons are those of the elements, by their {@link stoppingShares}; loss by backscatter and absorption
 * follow the depth distribution of an edge of the photon's own energy. Worked out on one grid of energies and interpolated.
 */
export function createContinua(beamEv: number, pathFactor: number): Continua {
  const grid = energyGrid(beamEv);
  const excess = new Float64Array(grid.length);
  for (let k = 0; k < excess.length; k++) excess[k] = meanPathExcess(1 - grid[k] / beamEv);
  const generated = elementSums(grid, (z, energy) => generatedContinuum(z, energy / 1000, beamEv / 1000));
  const attenuation = elementSums(grid, massAttenuation);
  const onGrid = keepLast((matrix) => {
    const photons = generated(stoppingShares(matrix, beamEv));
    const hard = hardShare(matrix, beamEv);
    const absorbing = attenuation(matrix);
    const byFactor = new Map<number, Float64Array>();
    return (factors: readonly number[]): Float64Array[] => {
      const missing = factors.filter((factor) => !byFactor.has(factor));
      const made = leaving(grid, matrix, beamEv / 1000, absorbing, missing, pathFactor);
      for (let f = 0; f < made.length; f++) {
        const values = made[f];
        for (let k = 0; k < values.length; k++) values[k] = (photons[k] * values[k] * (1 + hard * excess[k])) / 1000;
        byFactor.set(missing[f], values);
      }
      return factors.map((factor) => byFactor.get(factor)!);
    };
  });
  return (matrix, energiesEv, attenuationFactors) => {
    const positions = POSITIONS.of(energiesEv.length);
    for (let i = 0; i < positions.length; i++) positions[i] = positionOn(grid, energiesEv[i]);
    return onGrid(matrix)(attenuationFactors).map((values) => interpolated(grid, values, energiesEv, positions));
  };
}

const POSITIONS = new Scratch();

/** Part of the photons of each energy of the grid that leaves the specimen, for each factor on its attenuation; 0 at the beam energy. */
function leaving(
  grid: Float64Array,
  matrix: MassFractions,
  beamKev: number,
  attenuation: Float64Array,
  factors: readonly number[],
  pathFactor: number,
): Float64Array[] {
  const means = matrixMeans(matrix);
  const exponent = crossSectionExponent(means.z, 0);
  const out = factors.map(() => new Float64Array(grid.length));
  if (factors.length === 0) return out;
  const depth = blankDistribution();
  for (let k = 0; k < grid.length && grid[k] / 1000 < beamKev; k++) {
    depthDistribution(means, beamKev, grid[k] / 1000, exponent, depth);
    for (let f = 0; f < factors.length; f++)
      out[f][k] = depth.backscatterLoss * emergingFraction(depth, attenuation[k] * factors[f] * pathFactor);
  }
  return out;
}

/** Ascending to exactly the beam energy, evenly spaced in ln E. */
function energyGrid(beamEv: number): Float64Array {
  const count = Math.max(2, Math.ceil(log(beamEv / LOWEST_EV) / LN_STEP) + 1);
  const grid = new Float64Array(count);
  for (let k = 0; k < count; k++) grid[k] = beamEv * power(STEP, k - count + 1);
  return grid;
}

/** Place of an energy between the points of a grid; -1 where it lies on none of its steps. */
function positionOn(grid: Float64Array, energy: number): number {
  const last = grid.length - 1;
  const position = last + log(energy / grid[last]) / LN_STEP;
  return !(position >= 0) || energy >= grid[last] ? -1 : position;
}

/** @param positions of the energies between the points of the grid */
function interpolated(
  grid: Float64Array,
  values: Float64Array,
  energies: Float64Array,
  positions: Float64Array,
): Float64Array {
  const out = new Float64Array(energies.length);
  for (let i = 0; i < out.length; i++) {
    if (positions[i] < 0) continue;
    const k = Math.min(grid.length - 2, Math.floor(positions[i]));
    out[i] = values[k] + ((values[k + 1] - values[k]) * (energies[i] - grid[k])) / (grid[k + 1] - grid[k]);
  }
  return out;
}

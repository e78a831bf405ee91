import { log } from '../../arithmetic/exponential.ts';
import { power } from '../../arithmetic/power.ts';
import type { MassFractions } from '../../atomic/composition.ts';
import { atomicWeight, MAX_Z } from '../../atomic/elements.ts';
import { boteSalvat } from '../../atomic/ionisation-parameters.ts';
import { edgeEv, type SubshellIndex, SUBSHELLS } from '../../atomic/shells.ts';
import { crossSection } from './cross-section.ts';
import { elementSums } from './element-sums.ts';
import { stoppingPower } from './stopping.ts';
import { hardShare, pathExcess } from './straggling.ts';

/** Ratio of neighbouring energies of the integration grid: integrals exact to 0.2 % from U = 1.5 up, to 2 % at U = 1.03. */
const STEP = 1.02;
/** Lowest energy an electron is followed to, eV: below every edge with listed lines. */
const LOWEST_EV = 50;
const AVOGADRO = 6.02214076e23;

/** Ionisations along the whole path of an electron that slows down from the beam energy. */
export interface SlowingDown {
  /** Path per energy lost in a matrix on the energy grid, g/(eV cm2): 1/S by Bragg's rule, and what straggling adds to it. */
  reciprocalStopping(matrix: MassFractions): Float64Array;
  /**
   * Ionisations of a subshell per beam electron and unit mass fraction, without backscatter loss: the integral of
   * (N_A / A) sigma times the path per energy from the edge to the beam energy.
   */
  ionisations(z: number, s: SubshellIndex, reciprocalStopping: Float64Array): number;
}

export function createSlowingDown(beamEv: number): SlowingDown {
  const energies = gridBelow(beamEv);
  const excess = new Float64Array(energies.length);
  for (let k = 0; k < excess.length; k++) excess[k] = pathExcess(1 - energies[k] / beamEv);
  const stopping = elementSums(energies, stoppingPower);
  const weights = new Array<Float64Array | undefined>((MAX_Z + 1) * SUBSHELLS.length);
  return {
    reciprocalStopping(matrix) {
      const total = stopping(matrix);
      const hard = hardShare(matrix, beamEv);
      for (let k = 0; k < total.length; k++) total[k] = (1 + hard * excess[k]) / total[k];
      return total;
    },
    ionisations(z, s, reciprocalStopping) {
      const own = (weights[z * SUBSHELLS.length + s] ??= integrationWeights(z, s, energies));
      let sum = 0;
      for (let k = 0; k < own.length; k++) sum += own[k] * reciprocalStopping[k];
      return sum;
    },
  };
}

/** Energies from the beam downwards, evenly spaced in ln E. */
function gridBelow(beamEv: number): Float64Array {
  const count = Math.max(1, Math.floor(log(beamEv / LOWEST_EV) / log(STEP)) + 1);
  const energies = new Float64Array(count);
  for (let k = 0; k < count; k++) energies[k] = beamEv * power(STEP, -k);
  return energies;
}

/** Trapezium weights times (N_A / A) sigma, cm2 eV/g; the last piece ends at the edge, where sigma is 0. */
function integrationWeights(z: number, s: SubshellIndex, energies: Float64Array): Float64Array {
  const parameters = boteSalvat(z, s);
  const edge = edgeEv(z, s);
  if (parameters === undefined) return new Float64Array(0);
  let count = 0;
  while (count < energies.length && energies[count] > edge) count++;
  const perGram = AVOGADRO / atomicWeight(z);
  const weights = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const above = k === 0 ? energies[0] : energies[k - 1];
    const below = k === count - 1 ? Math.max(edge, LOWEST_EV) : energies[k + 1];
    weights[k] = 0.5 * (above - below) * perGram * crossSection(parameters, edge, energies[k]);
  }
  return weights;
}

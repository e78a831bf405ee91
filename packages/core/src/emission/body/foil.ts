import type { MassFractions } from '../../atomic/composition.ts';
import { atomicWeight } from '../../atomic/elements.ts';
import { LINE_TABLE } from '../../atomic/lines.ts';
import { edgeEv, fluorescenceYield, SUBSHELLS } from '../../atomic/shells.ts';
import type { Emission } from '../thick/characteristic.ts';
import { ionisationCrossSection } from '../electrons/cross-section.ts';
import { redistribute } from '../electrons/vacancies.ts';

/** Above this beam energy an instrument sends its electrons through a foil, eV (scanning microscopes end at 30 to 40 keV). */
export const TRANSMISSION_FROM_EV = 60_000;

/**
 * Emission of a foil that electrons cross without loss: vacancies by the cross section at the beam energy, no absorption,
 * no backscatter. Scale: photons per electron and steradian for 1 g/cm2. Absorption in real foils of some 100 nm touches
 * only the softest lines.
 * Continuum: thin-target form, photon number falling as 1/E, proportional to Z2/A (Kramers 1923; relative scale only).
 */
export function createFoilEmission(beamEv: number, takeOffDeg: number): Emission {
  return {
    beamEv,
    takeOffDeg,
    lines: (_, wanted, out = new Float64Array(LINE_TABLE.count)) => foilLines(beamEv, wanted, out),
    continuum: foilContinuum,
    // Nothing is absorbed in a foil.
    continua: (matrix, energiesEv, factors) => factors.map(() => foilContinuum(matrix, energiesEv)),
  };
}

const AVOGADRO = 6.02214076e23;

function foilLines(beamEv: number, wanted: Uint8Array | undefined, out: Float64Array): Float64Array {
  for (let z = 1; z + 1 < LINE_TABLE.first.length; z++) {
    if (wanted !== undefined && !wanted[z]) continue;
    if (LINE_TABLE.first[z] === LINE_TABLE.first[z + 1]) continue;
    const vacancies = new Float64Array(SUBSHELLS.length);
    const perGram = AVOGADRO / atomicWeight(z);
    for (let s = 0; s < SUBSHELLS.length; s++)
      if (edgeEv(z, s) < beamEv) vacancies[s] = perGram * ionisationCrossSection(z, s, beamEv);
    redistribute(vacancies, z);
    for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) {
      const s = LINE_TABLE.subshell[i];
      out[i] = (vacancies[s] * fluorescenceYield(z, s) * LINE_TABLE.relative[i]) / (4 * Math.PI);
    }
  }
  return out;
}

/** Radiative cross section per atom and unit ln(E), for Z = 1, cm2: order of magnitude (5.8e-28 Z2, Kirkpatrick & Wiedmann 1945). */
const BREMSSTRAHLUNG_CM2 = 5.8e-28;

function foilContinuum(matrix: MassFractions, energiesEv: Float64Array): Float64Array {
  let strength = 0;
  for (let z = 0; z < matrix.length; z++)
    if (matrix[z] > 0) strength += (matrix[z] * z * z * AVOGADRO) / atomicWeight(z);
  const out = new Float64Array(energiesEv.length);
  for (let i = 0; i < out.length; i++)
    out[i] = (BREMSSTRAHLUNG_CM2 * strength) / (4 * Math.PI * Math.max(energiesEv[i], 50));
  return out;
}

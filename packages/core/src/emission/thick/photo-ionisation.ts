import { stretch } from '../../arithmetic/stretch.ts';
import { massAttenuation } from '../../atomic/attenuation.ts';
import { MAX_Z } from '../../atomic/elements.ts';
import { edgeEv, fluorescenceYield, SUBSHELLS } from '../../atomic/shells.ts';
import { redistribute } from '../electrons/vacancies.ts';

/** An edge and the jump of the attenuation coefficient there: above / below. */
interface Jump {
  readonly s: number;
  readonly edge: number;
  readonly ratio: number;
}

/** Edges of each element from K outwards; filled when first asked for (pure look-up table). */
const JUMPS = new Array<readonly Jump[] | undefined>(MAX_Z + 1);

/** Half the distance of the pair of points that data/atomic/attenuation.csv has at each edge, eV, and a little more. */
const BESIDE_EDGE_EV = 0.02;

/**
 * Photons of each subshell (all its lines, length 9) that an element gives off per photon of the given energy and g/cm2 of it
 * crossed: photo-ionisation of each subshell, redistributed, times the yield. cm2/g.
 */
export function fluorescencePerPhoton(z: number, energyEv: number): Float64Array {
  const photons = photoIonisation(z, energyEv);
  redistribute(photons, z);
  for (let s = 0; s < photons.length; s++) photons[s] *= fluorescenceYield(z, s);
  return photons;
}

/**
 * Photo-ionisation of each subshell, cm2/g, from the total attenuation and the jumps at the edges: K takes 1 - 1/r of the
 * whole, what is left is shared alike from L1 on. Against Kissel's partial cross sections see
 * tests/published/photo-ionisation.test.ts.
 */
export function photoIonisation(z: number, energyEv: number): Float64Array {
  const shares = stretch(SUBSHELLS.length);
  let left = massAttenuation(z, energyEv);
  for (const { s, edge, ratio } of (JUMPS[z] ??= jumpsOf(z))) {
    if (energyEv <= edge) continue;
    shares[s] = left * (1 - 1 / ratio);
    left /= ratio;
  }
  return shares;
}

function jumpsOf(z: number): Jump[] {
  return SUBSHELLS.map((_, s) => ({ s, edge: edgeEv(z, s) }))
    .filter(({ edge }) => edge > BESIDE_EDGE_EV)
    .sort((a, b) => b.edge - a.edge)
    .map(({ s, edge }) => ({
      s,
      edge,
      ratio: Math.max(1, massAttenuation(z, edge + BESIDE_EDGE_EV) / massAttenuation(z, edge - BESIDE_EDGE_EV)),
    }));
}

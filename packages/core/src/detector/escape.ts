import { log1p } from '../arithmetic/exponential.ts';
import { massAttenuation } from '../atomic/attenuation.ts';
import { SILICON_FOR_ITS_OWN, SILICON_K_ALPHA_EV, SILICON_K_EDGE_EV, SILICON_K_PHOTONS } from './silicon-k.ts';

const SILICON = 14;
/** Energy an escaping photon carries away, eV. */
export const SILICON_ESCAPE_EV = SILICON_K_ALPHA_EV;

/**
 * Escape peak over parent peak for photons of this energy; 0 below the Si K edge. Front face of a thick detector, normal
 * incidence: eta = w (1 - 1/r) [1 - (mK/mE) ln(1 + mE/mK)] / 2, ratio eta / (1 - eta).
 * Source: S.J.B. Reed, N.G. Ware, J. Phys. E 5 (1972) 582, from memory. With the yield of 0.050 of our table; the older value
 * 0.043 (Krause 1979) would make it 15 % smaller.
 */
export function escapeRatio(energyEv: number): number {
  if (!(energyEv > SILICON_K_EDGE_EV)) return 0;
  const ratio = SILICON_FOR_ITS_OWN / massAttenuation(SILICON, energyEv);
  const eta = 0.5 * SILICON_K_PHOTONS * (1 - ratio * log1p(1 / ratio));
  return eta / (1 - eta);
}

import { massAttenuation } from '../atomic/attenuation.ts';
import { edgeEv, fluorescenceYield } from '../atomic/shells.ts';

const SILICON = 14;
/** Energy a Si K photon carries away, eV: Si K-L3, X-Ray Data Booklet Table 1-2. */
export const SILICON_ESCAPE_EV = 1739.98;

const EDGE_EV = edgeEv(SILICON, 0);
const ATTENUATION_OF_ESCAPING = massAttenuation(SILICON, SILICON_ESCAPE_EV);
/** Part of the absorptions above the edge that ionise the K shell: 1 - 1/r, r the jump of the attenuation (10.4). */
const K_SHARE = 1 - massAttenuation(SILICON, EDGE_EV - 0.1) / massAttenuation(SILICON, EDGE_EV + 0.1);

/**
 * Escape peak over parent peak for photons of this energy; 0 below the Si K edge. Front face of a thick detector, normal
 * incidence: eta = w (1 - 1/r) [1 - (mK/mE) ln(1 + mE/mK)] / 2, ratio eta / (1 - eta).
 * Source: S.J.B. Reed, N.G. Ware, J. Phys. E 5 (1972) 582, from memory. With the yield of 0.050 of our table; the older value
 * 0.043 (Krause 1979) would make it 15 % smaller.
 */
export function escapeRatio(energyEv: number): number {
  if (!(energyEv > EDGE_EV)) return 0;
  const ratio = ATTENUATION_OF_ESCAPING / massAttenuation(SILICON, energyEv);
  const eta = 0.5 * fluorescenceYield(SILICON, 0) * K_SHARE * (1 - ratio * Math.log1p(1 / ratio));
  return eta / (1 - eta);
}

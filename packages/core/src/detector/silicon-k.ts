import { massAttenuation } from '../atomic/attenuation.ts';
import { edgeEv, fluorescenceYield } from '../atomic/shells.ts';

const SILICON = 14;

/** Si K-L3, eV: what an escaping photon carries away, and what fluorescence of the silicon brings. X-Ray Data Booklet Table 1-2. */
export const SILICON_K_ALPHA_EV = 1739.98;

/** K edge of silicon, eV. */
export const SILICON_K_EDGE_EV = edgeEv(SILICON, 0);

/** Attenuation of its own K-alpha radiation in silicon, cm2/g. */
export const SILICON_FOR_ITS_OWN = massAttenuation(SILICON, SILICON_K_ALPHA_EV);

/** Part of the absorptions above the edge that ionise the K shell: 1 - 1/r, r the jump of the attenuation (10.4). */
const K_SHARE =
  1 - massAttenuation(SILICON, SILICON_K_EDGE_EV - 0.1) / massAttenuation(SILICON, SILICON_K_EDGE_EV + 0.1);

/** K photons per photon absorbed in silicon above the edge: yield (0.050; 0.043 in Krause 1979) times share of the K shell. */
export const SILICON_K_PHOTONS = fluorescenceYield(SILICON, 0) * K_SHARE;

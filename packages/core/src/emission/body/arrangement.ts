import type { DepthDistribution } from '../thick/depth-distribution.ts';
import type { Matter } from './matter.ts';

/** Materials placed in space. Each part is worked out from its own material as a thick specimen. */
export interface Arrangement {
  readonly parts: readonly Part[];
  /**
   * How the parts share the ionisations of one edge (or continuum photons of that energy), from phi(rho z) of each part's
   * material when thick. The result gives the mass depth, g/cm2 of phi = 1, whose photons leave part k towards the
   * detector; `chis`, cm2/g, are of all parts.
   */
  readonly share: (thick: readonly DepthDistribution[]) => (k: number, chis: readonly number[]) => number;
}

export interface Part {
  readonly matter: Matter;
  /** Mass per area along the beam, g/cm2; may be Infinity. */
  readonly massThickness: number;
}

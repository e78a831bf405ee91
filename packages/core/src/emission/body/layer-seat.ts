import { exp } from '../../arithmetic/exponential.ts';
import { power } from '../../arithmetic/power.ts';
import type { DepthDistribution } from '../thick/depth-distribution.ts';

/**
 * A layer is worked out as a slice of a thick specimen of its own material, so that every case with one material is exact.
 * `from` is the mass depth, g/cm2, at which the slice begins there; `factor` scales the ionisations in it.
 */
export interface Seat {
  readonly from: number;
  readonly factor: number;
}

/** Depth, in mean depths of ionisation, over which electrons that a neighbour scatters back fade away. */
const FADING = 0.6;
/** How strongly the backscatter of a layer above changes what reaches the layers below. */
const SHIELDING = 0.75;

/**
 * Seats of the layers of a stack for one edge (or photons of that energy), from each layer's phi(rho z) when thick.
 *
 * Mass depth is nearly the same currency in all materials; what differs is backscatter, which phi(0) tells. Hence:
 * - what lies above a layer counts by its mass per area, more where it scatters more than the layer's own material;
 * - what lies below raises or lowers the ionisations in a layer, for a thin one from phi(0) of its own material to that of
 *   what lies below (a thin film then has t phi(0) of the substrate, as in J.L. Pouchou, F. Pichoir, Scanning 12 (1990) 212, from memory).
 * Both fade with depth. Scheme and constants are ours, set by a Monte Carlo calculation of single scattering: eight pairs of
 * materials from C to Au at 10 and 20 keV, films of 0.05 to 2 mean depths (tests/published/stack.test.ts). Differences from
 * it, in units of the thick layer's ionisations: rms 0.034 for films and 0.039 for substrates, largest 0.14.
 * The published way (one curve for the whole stack, its parameters from compositions weighted by depth) came to about 0.06 for
 * both, with weights that fall like (1 - z/reach)^2 as we memoise them and the best reach.
 *
 * @param thickness mass per area of each layer, g/cm2, from the beam's side; the last may be Infinity
 */
export function seatLayers(thickness: readonly number[], thick: readonly DepthDistribution[]): Seat[] {
  const faces = [0];
  thickness.forEach((t, k) => faces.push(faces[k] + t / thick[k].meanDepth));
  return thick.map((own, k) => {
    let [from, factor] = [0, 1];
    for (let j = 0; j < thick.length; j++) {
      const ratio = thick[j].surface / own.surface;
      if (j < k) {
        const more = (power(ratio, SHIELDING) - 1) * (near(faces[j + 1]) - near(faces[j]));
        from += thickness[j] + thick[j].meanDepth * more;
      } else if (j > k) factor += (ratio - 1) * (fading(faces[j]) - fading(faces[j + 1]));
    }
    return { from, factor };
  });
}

const fading = (depth: number): number => exp(-depth / FADING);
const near = (depth: number): number => depth * fading(depth);

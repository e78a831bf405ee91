import { exp, log } from '../arithmetic/exponential.ts';
import { randomStream } from './random.ts';

/** How the continuum is bent; told as in Perturbation (perturb.ts). */
export interface ContinuumBends {
  readonly seed: number;
  /** Height over energy: slope and curvature in ln E. */
  readonly continuum?: number;
  /** Up and down at places some hundred eV apart. */
  readonly wiggle?: number;
}

const [CONTINUUM, WIGGLE] = [7, 8];

/** Places at which the wiggle is drawn are this far apart, eV; there are enough for any beam. */
const STEP_EV = 500;
const PLACES = 120;

/** Factor on the continuum at an energy. */
export function bendContinuum({ seed, continuum, wiggle }: ContinuumBends): (energyEv: number) => number {
  const smooth = randomStream(seed, CONTINUUM);
  const [slope, curvature] = [smooth.normal() * (continuum ?? 0), smooth.normal() * (continuum ?? 0)];
  const random = randomStream(seed, WIGGLE);
  const heights = wiggle === undefined ? null : Float64Array.from({ length: PLACES }, () => wiggle * random.normal());
  return (energyEv) => {
    const x = log(energyEv / 2000);
    return exp(slope * x + 0.5 * curvature * x * x + (heights === null ? 0 : between(heights, energyEv)));
  };
}

/** From place to place without a kink. */
function between(heights: Float64Array, energyEv: number): number {
  const at = Math.min(Math.max(0, energyEv / STEP_EV), PLACES - 1.001);
  const place = Math.floor(at);
  const t = at - place;
  return heights[place] + (heights[place + 1] - heights[place]) * t * t * (3 - 2 * t);
}

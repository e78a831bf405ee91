import { exp } from '../arithmetic/exponential.ts';
import { randomStream } from './random.ts';

/** How photons are kept apart; told as in Perturbation (perturb.ts). */
export interface PhaseBends {
  readonly seed: number;
  /**
   * The spectrum is a sum over two kinds of place, and photons of different places never meet: elements keep to one of them the more,
   * the larger this is (standard deviation of the logarithm of their ratio). Pairs of lines so pile up at rates of their own.
   */
  readonly phases?: number;
}

/** Purpose of the draw for an element; apart from those of lines (bend-lines.ts). */
const PHASES = 200_000;

const ONE: readonly number[] = [1];

/** Parts of an element's photons that come from each of two kinds of place; one kind where nothing is asked for. @param z 0 for the continuum */
export function bendPhases({ seed, phases }: PhaseBends): (z: number) => readonly number[] {
  if (phases === undefined) return () => ONE;
  return (z) => {
    if (z === 0) return [0.5, 0.5];
    const part = 1 / (1 + exp(phases * randomStream(seed, PHASES + z).normal()));
    return [part, 1 - part];
  };
}

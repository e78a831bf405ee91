import { log } from '../arithmetic/exponential.ts';
import type { MeasuredElement, ReferenceGrain } from './reference-grain.ts';

/** Two elements, by atomic number. */
export interface Pair {
  readonly above: number;
  readonly below: number;
}

/** The natural logarithm of something, with one standard uncertainty. */
export interface Ln {
  readonly ln: number;
  readonly sigma: number;
}

/** Elements below this mass fraction teach nothing: traces and overlaps rule there. */
const LEAST_STATED = 0.02;
/** Coats, resin and dirt bring carbon: it is never measured against a label. */
const CARBON = 6;

/**
 * ln of the ratio of two amounts in a spectrum, by counting alone; null where one of them is not there.
 * @returns the ratio by mass as the model has it, and the ratio of counts
 */
export function measuredPair(
  elements: readonly MeasuredElement[],
  { above, below }: Pair,
): { readonly mass: Ln; readonly counts: number } | null {
  const [a, b] = [above, below].map((z) => elements.find((one) => one.z === z && one.present));
  if (!a || !b || !(a.massFraction! > 0) || !(b.massFraction! > 0)) return null;
  const sigma = Math.hypot(a.counts.sigma / a.counts.value, b.counts.sigma / b.counts.value);
  return {
    mass: { ln: log(a.massFraction! / b.massFraction!), sigma },
    counts: log(a.counts.value / b.counts.value),
  };
}

/** How far a reference's label stands above what the model made of its counts, and the model's own matrix factor there. */
export interface Told extends Ln {
  readonly name: string;
  readonly label: string;
  /** ln of counts over mass fractions: what the model holds the two elements' lines to be worth in this matrix. */
  readonly worth: number;
}

/** What a reference says of the ratio of two elements; null where it holds too little of one. */
export function toldBy({ name, label, stated, elements }: ReferenceGrain, pair: Pair): Told | null {
  const [above, below] = [pair.above, pair.below].map((z) => stated.find((one) => one.z === z)?.massFraction ?? 0);
  if (Math.min(above, below) < LEAST_STATED) return null;
  const measured = measuredPair(elements, pair);
  if (measured === null) return null;
  const { mass, counts } = measured;
  return { name, label, ln: log(above / below) - mass.ln, sigma: mass.sigma, worth: counts - mass.ln };
}

/** Elements that a reference can speak of. */
export const spokenOf = ({ stated }: ReferenceGrain): number[] =>
  stated.filter(({ z, massFraction }) => z !== CARBON && massFraction >= LEAST_STATED).map(({ z }) => z);

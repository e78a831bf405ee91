import { exp, log } from '../arithmetic/exponential.ts';
import type { MassFractions } from '../atomic/composition.ts';
import type { Measurement } from './comparison.ts';
import { separation } from './separation.ts';

/** What it takes to tell two explanations apart. */
export interface CountsNeeded {
  /** Counts in the fitted range for {@link SIGMAS} standard deviations; null where the most that is tried does not do. */
  readonly countsNeeded: number | null;
  /** Standard deviations at {@link MOST_COUNTS}: what the doubt of the physics leaves. */
  readonly mostSigma: number;
}

/** Standard deviations from which counts count as telling. */
export const SIGMAS = 3;
/** Hours under a beam that gives 10 000 counts a second. */
export const MOST_COUNTS = 1e8;
/** A spectrum of fewer says nothing about anything. */
export const FEWEST_COUNTS = 100;

const WANTED = SIGMAS ** 2;
/** The counts told bear two figures at most. */
const PRECISION = 0.02;
const MOST_STEPS = 12;

/**
 * The counts for three standard deviations. Chi-square rises with the counts, by less than in proportion: between two counts that
 * enclose the answer, it is sought on a straight line of their logarithms.
 * @param known chi-square at the measurement's own counts
 */
export function countsFor(
  truth: MassFractions,
  wrong: MassFractions,
  measurement: Measurement,
  known: number,
): CountsNeeded {
  const at = (counts: number): Point => ({
    counts,
    chi: separation(truth, wrong, { ...measurement, counts }).chiSquare,
  });
  const most = at(MOST_COUNTS);
  const mostSigma = Math.sqrt(most.chi);
  if (!(most.chi >= WANTED)) return { countsNeeded: null, mostSigma };
  const here: Point = { counts: measurement.counts, chi: known };
  let [below, above] = known >= WANTED ? [at(FEWEST_COUNTS), here] : [here, most];
  if (below.chi >= WANTED) return { countsNeeded: FEWEST_COUNTS, mostSigma };
  for (let step = 0; step < MOST_STEPS && above.counts / below.counts > 1 + PRECISION; step++) {
    const next = at(between(below, above, step));
    if (next.chi >= WANTED) above = next;
    else below = next;
  }
  return { countsNeeded: above.counts, mostSigma };
}

interface Point {
  readonly counts: number;
  readonly chi: number;
}

/** Where the line through both reaches what is wanted, kept off both ends; the middle now and then, lest one end stays. */
function between(below: Point, above: Point, step: number): number {
  const [from, to] = [log(below.counts), log(above.counts)];
  if (!(below.chi > 0) || step % 3 === 2) return exp((from + to) / 2);
  const share = log(WANTED / below.chi) / log(above.chi / below.chi);
  const aside = step % 2 === 0 ? 0.01 : -0.01;
  return exp(from + (to - from) * Math.min(0.95, Math.max(0.05, share + aside)));
}

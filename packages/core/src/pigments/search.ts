import { figuresOf } from './figures.ts';
import type { Fits } from './fits.ts';
import type { Mixture } from './mixture.ts';
import type { Part } from './part.ts';
import { PRIORS } from './priors.ts';
import { promising } from './promise.ts';

/** Most materials in one explanation, medium and mounting apart. */
export const MOST_PARTS = 4;
/** Parts tried at each step by full fits, after a quick estimate of all. */
const TRIED = 5;
/** Mixtures carried on at each step. */
const CARRIED_ON = 2;
/** Mixtures this far below the best are dropped, by what the amounts alone say and with the priors: what is seen besides may lift one. */
const KEPT = { amounts: 7, weight: 12 };
/**
 * A part with which the likelihood loses more than this, ln, is dropped; what it neither betters nor worsens may be there, and has its
 * share of the weight: lead white beside lead-tin yellow.
 */
const LEAST_LOSS = -1;
/** Mixtures of all but one of the most parts that are carried on to the last. */
const CARRIED_TO_LAST = 8;

/**
 * Mixtures to which no part does harm, best first: from each part alone, the parts that better it most are added while they
 * can pay for themselves; a last one to the best mixtures of all.
 */
export function searchMixtures(fitted: Fits, parts: readonly Part[]): Mixture[] {
  const large = new Set<Mixture>();
  for (const part of parts) {
    let carried = [fitted.of([part])];
    for (let size = 2; size < MOST_PARTS; size++) {
      const longer: Mixture[] = [];
      for (const mixture of carried) longer.push(...extended(mixture, parts, fitted));
      carried = longer.sort(heaviestFirst).slice(0, CARRIED_ON);
    }
    for (const mixture of carried) large.add(mixture);
  }
  const lacking = [...large].filter(isLacking).sort(heaviestFirst);
  for (const mixture of lacking.slice(0, CARRIED_TO_LAST)) extended(mixture, parts, fitted);
  return harmless(fitted);
}

/** Those near the best to which no part does harm, best first. */
function harmless(fitted: Fits): Mixture[] {
  const all = fitted.all().sort(heaviestFirst);
  const leastWeight = all[0].lnWeight - KEPT.weight;
  let mostAmounts = -Infinity;
  for (const { lnAmounts } of all) mostAmounts = Math.max(mostAmounts, lnAmounts);
  const kept: Mixture[] = [];
  for (const mixture of all) {
    const isNear = mixture.lnWeight > leastWeight || mixture.lnAmounts > mostAmounts - KEPT.amounts;
    if (isNear && leastLoss(mixture, fitted) > LEAST_LOSS) kept.push(mixture);
  }
  return kept;
}

const heaviestFirst = (a: Mixture, b: Mixture): number => b.lnWeight - a.lnWeight;

/** Misses the amounts by more than what one more part costs. */
const isLacking = ({ chi2 }: Mixture): boolean => chi2 >= -2 * PRIORS.part.value;

/** The mixture with each of the parts that promise most. */
function extended(mixture: Mixture, parts: readonly Part[], fitted: Fits): Mixture[] {
  const longer: Mixture[] = [];
  if (!isLacking(mixture)) return longer;
  const { length } = mixture.parts;
  for (const { part, fraction } of promising(mixture, parts, figuresOf(fitted.evidence), TRIED)) {
    const start: number[] = [];
    for (let m = 0; m < length; m++) start.push(mixture.fractions[m]);
    start.push(fraction);
    longer.push(fitted.of([...mixture.parts, part], start));
  }
  return longer;
}

/** ln of the likelihood that is lost when the part is left out that is missed least; whatever a part costs. */
export function leastLoss(mixture: Mixture, fitted: Fits): number {
  let least = Infinity;
  for (let m = 0; m < mixture.parts.length; m++) {
    const rest = fitted.without(mixture, m);
    least = Math.min(least, mixture.lnAmounts - PRIORS.part.value - rest.lnAmounts);
  }
  return least;
}

import { exp } from '../arithmetic/exponential.ts';
import { LINE_TABLE } from '../atomic/lines.ts';
import { priorPenalty } from './candidates.ts';

/** What an element must show to be `present`: chi-square against nothing in its place, margin against the best rival. */
export interface Threshold {
  readonly deltaC: number;
  readonly margin: number;
}

/** Carbon and oxygen are in or on nearly everything: four standard deviations, and no rival as likely. */
const EXPECTED: Threshold = { deltaC: 16, margin: 6 };
const EXPECTED_ELEMENTS: ReadonlySet<number> = new Set([6, 8]);
/** Six standard deviations, as some seventy elements are looked for in a model that is not perfect, and a rival e^5 less likely. */
const ORDINARY: Threshold = { deltaC: 36, margin: 10 };
/** Seven for what seldom occurs, eight for what hardly ever does: a small fault of the model is likelier. */
const UNUSUAL: Threshold = { deltaC: 49, margin: 15 };
const RARE: Threshold = { deltaC: 64, margin: 20 };
/** Prior penalties from which an element is unusual, and rare. */
const UNUSUAL_FROM = 12;
const RARE_FROM = 15;
/** N, F: one soft line each, where noise edge, window edges and neighbours' tails can look alike. */
const LONE_SOFT: Threshold = { deltaC: 36, margin: 20 };
/** Elements seen by L or M lines below 1.3 keV alone: soft line shapes and ratios are the least known part of the model. */
const SOFT_FAMILY: Threshold = { deltaC: 64, margin: 30 };
/** Be and B at the noise edge, and elements seen by L or M lines below 0.4 keV alone, where M lines are hardly tabulated and the noise edge begins. */
const SOFTEST_FAMILY: Threshold = { deltaC: 200, margin: 100 };
/** Energies below which lines are soft, and softest, eV. */
export const SOFT_BELOW_EV = 1300;
export const SOFTEST_BELOW_EV = 400;
const SOFT_SHARE = 0.8;
/** Magnesium, the last element whose K lines lie there. */
const LAST_SOFT_K = 12;

/**
 * What an element must show.
 * @param areas detected area of every line of the spectrum's conditions, LINE_TABLE order
 * @param evidence share of its evidence that lies below 1.3 and below 0.4 keV
 */
export function thresholdOf(z: number, areas: Float64Array, evidence: EvidencePlace): Threshold {
  if (z === 4 || z === 5) return SOFTEST_FAMILY;
  if (z === 7 || z === 9) return LONE_SOFT;
  if (EXPECTED_ELEMENTS.has(z)) return EXPECTED;
  if (evidence.below400 > SOFT_SHARE) return SOFTEST_FAMILY;
  if ((z > LAST_SOFT_K && evidence.soft > SOFT_SHARE) || isSoftFamily(z, areas)) return SOFT_FAMILY;
  return byPrior(z);
}

function byPrior(z: number): Threshold {
  if (priorPenalty(z) >= RARE_FROM) return RARE;
  return priorPenalty(z) >= UNUSUAL_FROM ? UNUSUAL : ORDINARY;
}

/** An amount below this many standard deviations is never required: neither of the whole fit, nor where its best peak stands. */
export const LEAST_SIGMAS = 4;

/** Whether a threshold asks for more than an ordinary element must show. */
export function isMoreAsked(threshold: Threshold): boolean {
  return threshold.deltaC > ORDINARY.deltaC;
}

/** Where the chi-square that speaks for an element lies: shares of it below two energies. */
export interface EvidencePlace {
  readonly below400: number;
  readonly soft: number;
}

/** Whether an element is seen here by L or M lines below 1.3 keV (nearly) alone. */
export function isSoftFamily(z: number, areas: Float64Array): boolean {
  return z >= 10 && softShare(z, areas, SOFT_BELOW_EV) > SOFT_SHARE;
}

/** Share of an element's detected area in L and M lines below an energy. */
function softShare(z: number, areas: Float64Array, belowEv: number): number {
  let soft = 0;
  let total = 0;
  for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) {
    total += areas[i];
    if (LINE_TABLE.energyEv[i] < belowEv && LINE_TABLE.subshell[i] > 0) soft += areas[i];
  }
  return total > 0 ? soft / total : 0;
}

/**
 * Evidence for an element on one scale: the smaller of its margin over the best rival and of its chi-square less what chance
 * and small faults of the model reach, each relative to its threshold. 0: a toss-up; an ordinary element at its threshold has 10.
 */
export function evidenceOf(deltaC: number, margin: number, threshold: Threshold): number {
  const overRival = (margin * ORDINARY.margin) / threshold.margin;
  const overNothing = (deltaC * ORDINARY.deltaC) / threshold.deltaC - BY_CHANCE;
  return Math.min(overRival, overNothing);
}
/**
 * Chi-square that chance and small faults of the model reach with some seventy elements to choose from.
 */
const BY_CHANCE = 14;

// Probabilities are logistic in the evidence. MEMBER and BY_CHANCE: maximum likelihood over 5,450 elements told in 1,145 spectra of another
// forward model and in 27 measured ones, as they are and with a third, a tenth and a thirtieth of their counts; what the detector itself
// may bring left out. OUTSIDE: over 2,000 random grains with bent physics and 389 spectra of that model. How well they hold on others is
// in tests/statistics/README.md. No evidence takes the last doubt, for the model itself may be wrong: a part of RESIDUE stays.
const MEMBER = { centre: -5, scale: 7 };
const RESIDUE = 0.005;
const OUTSIDE = { constant: -3.65, gain: 0.47, penalty: -0.185 };

const logistic = (x: number): number => 1 / (1 + exp(-x));

/** Probability of an element that is part of the explanation, from its evidence. */
export function probabilityInside(evidence: number): number {
  return RESIDUE + (1 - 2 * RESIDUE) * logistic((evidence - MEMBER.centre) / MEMBER.scale);
}

/** Probability of an element outside the explanation, from what adding it would gain and from its prior penalty. */
export function probabilityOutside(gain: number, penalty: number): number {
  return logistic(OUTSIDE.constant + OUTSIDE.gain * gain + OUTSIDE.penalty * penalty);
}

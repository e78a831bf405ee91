import { log } from '../arithmetic/exponential.ts';
import type { Amount, Evidence } from './evidence.ts';
import type { Part } from './part.ts';
import {
  askStep,
  deskFor,
  type Desk,
  IMPURITY,
  setEquations,
  setState,
  startFrom,
  takeStep,
  turnsBack,
} from './mixture-steps.ts';
import { PRIORS } from './priors.ts';
import { lnSharesOf } from './shares.ts';
import { copied, stretch } from '../arithmetic/stretch.ts';

/** The best amounts of given parts, and how well they meet the evidence. */
export interface Mixture {
  readonly parts: readonly Part[];
  /** Mass fraction of each part in what was analysed, > 0. */
  readonly fractions: Float64Array;
  /** Relative standard deviation of each. */
  readonly relative: Float64Array;
  /** Mass fraction of each element that the parts hold together, aligned with the evidence. */
  readonly held: Float64Array;
  /** Squared deviations of each element, counting and physics at their most likely, aligned with the evidence. */
  readonly deviations: Float64Array;
  readonly chi2: number;
  /** Logarithm of the likelihood times the prior of as many parts, whichever they are: what the amounts alone say. */
  readonly lnAmounts: number;
  /** What their shares of the grain say, ln: how likely shares like these are, and how narrowly the amounts fix them. */
  readonly lnShares: number;
  /** Both, with the prior of each part: how usual it is, and its class. */
  readonly lnWeight: number;
}

/** What an element costs at most that is left to a material not among the known ones, as chi-square. Chosen. */
const UNKNOWN = 40;

const MOST_STEPS = 25;
const STILL = 1e-3;
/** A step that leads back is taken by half, and so is the next; where steps go on, they grow to their full length again. */
const [SHORTER, LONGER] = [0.5, 1.5];

/**
 * Fits parts to the evidence: maximum of the likelihood over the logarithms of the fractions and over one factor per element,
 * exp(u_i), normal with the covariance of the physics and of the spread of the materials, by Gauss-Newton steps. The measured
 * amounts are `held * exp(u)` plus counting noise with the covariance of the fit of the counts, so a gross excess costs as the square
 * of its logarithm and a gross lack as the square of its standard deviations.
 * @param start mass fractions to start from, > 0
 * @param fixed index of a part whose fraction stays; -1 for none
 */
export function fitMixture(evidence: Evidence, parts: readonly Part[], start: ArrayLike<number>, fixed = -1): Mixture {
  const desk = deskFor(evidence, parts);
  startFrom(desk, start);
  setState(desk, parts);
  let length = 1;
  for (let step = 0; step < MOST_STEPS && parts.length > 0; step++) {
    setEquations(desk, parts);
    askStep(desk, fixed);
    length = turnsBack(desk) ? SHORTER * length : Math.min(1, LONGER * length);
    const largest = takeStep(desk, length);
    setState(desk, parts);
    if (largest < STILL) break;
  }
  return concluded(parts, desk);
}

function concluded(parts: readonly Part[], desk: Desk): Mixture {
  const { figures, state, deviations, u, equations } = desk;
  const { all, value } = figures;
  setState(desk, parts, all);
  if (raiseOpen(desk, parts)) setState(desk, parts, all);
  const [fractions, held, q] = [copied(state.fractions), copied(state.held), state.amounts];
  const single = stretch(all.length);
  for (let i = 0; i < all.length; i++) single[i] = value[i] - q[i] + u[i] * q[i];
  const { gap } = equations;
  gap.set(single);
  deviations.set(state, all);
  deviations.whiten(gap);
  deviations.unwhiten(gap);
  let chi2 = 0;
  for (let i = 0; i < single.length; i++) {
    single[i] *= gap[i];
    if (held[i] < value[i]) single[i] = Math.min(UNKNOWN, single[i]);
    chi2 += single[i];
  }
  const wide = deviations.lnDeterminant();
  deviations.set(state, all, false);
  const volume = wide - deviations.lnDeterminant();
  const k = parts.length;
  const relative = stretch(k);
  for (let m = 0; m < k; m++) relative[m] = Math.min(1, 1 / Math.sqrt(equations.normal[m * k + m] || 1));
  const lnAmounts = -chi2 / 2 - volume + PRIORS.part.value * k;
  const lnShares = lnSharesOf(fractions, equations.normal);
  const lnWeight = parts.reduce((sum, { lnPrior }) => sum + lnPrior - PRIORS.part.value, lnAmounts + lnShares);
  return { parts, fractions, relative, held, deviations: single, chi2, lnAmounts, lnShares, lnWeight };
}

/**
 * A part that rests on open elements alone is held by nothing where it is: it makes up what they leave room for, but no more than a fair
 * share. Its being small would else count against it.
 * @returns whether a part was raised
 */
function raiseOpen({ figures: { value, counting, atMost }, state, ln }: Desk, parts: readonly Part[]): boolean {
  const fair = PRIORS.share.value * state.fractions.reduce((sum, fraction) => sum + fraction, 0);
  let raised = false;
  parts.forEach(({ restsOnOpen, holds }, a) => {
    if (!restsOnOpen) return;
    let most = Math.max(fair, state.fractions[a]);
    for (let i = 0; i < holds.length; i++) {
      const left = value[i] + (atMost[i] ? 0 : counting[i]) - state.held[i];
      if (holds[i] > 0) most = Math.min(most, state.fractions[a] + Math.max(0, left) / holds[i]);
    }
    ln[a] = log(most);
    raised = true;
  });
  return raised;
}

/**
 * Quick estimate of an element's squared deviation where `held` of it is offered: the smaller of counting's and the logarithm's,
 * joined smoothly. Only for choosing what to fit.
 */
export function quickDeviation({ kind, value, counting, physics }: Amount, held: number): number {
  if (kind === 'at-most' && held <= value) return 0;
  const off = value - held;
  const linear = (off * off) / (counting * counting + (off > 0 ? IMPURITY * IMPURITY : 0));
  const most = held < value ? UNKNOWN : Infinity;
  if (held <= counting || linear === 0) return Math.min(most, linear);
  const logarithmic = (log(Math.max(value, counting) / held) / physics) ** 2;
  return logarithmic === 0 ? 0 : Math.min(most, 1 / (1 / linear + 1 / logarithmic));
}

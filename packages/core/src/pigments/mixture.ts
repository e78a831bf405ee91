import { log } from '../arithmetic/exponential.ts';
import type { Evidence } from './evidence.ts';
import type { Part } from './part.ts';
import { DESK, layDesk, STRIDE } from './desk.ts';
import { lnWidening, weighCovariance, weighGap } from './deviations.ts';
import { askStep, IMPURITY, setEquations, setState, startFrom, takeStep, turnsBack } from './mixture-steps.ts';
import { type Figures, figuresOf } from './figures.ts';
import { PRIORS } from './priors.ts';
import { lnSharesOf } from './shares.ts';
import { stretch } from '../arithmetic/stretch.ts';

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
export const UNKNOWN = 40;

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
  layDesk(evidence, parts);
  startFrom(start);
  setState();
  let length = 1;
  for (let step = 0; step < MOST_STEPS && parts.length > 0; step++) {
    setEquations();
    askStep(fixed);
    length = turnsBack() ? SHORTER * length : Math.min(1, LONGER * length);
    const largest = takeStep(length);
    setState();
    if (largest < STILL) break;
  }
  if (raiseOpen(parts)) setState();
  return concluded(evidence, parts);
}

function concluded(evidence: Evidence, parts: readonly Part[]): Mixture {
  const { k, at, size, state, equations } = DESK;
  const { normal } = equations;
  const fractions = stretch(k);
  for (let a = 0; a < k; a++) fractions[a] = state.fractions[a];
  const relative = stretch(k);
  for (let a = 0; a < k; a++) relative[a] = Math.min(1, 1 / Math.sqrt(normal[a * k + a] || 1));
  const held = stretch(evidence.amounts.length);
  for (let j = 0; j < size; j++) held[at[j]] = state.held[j];
  const deviations = deviationsOf(parts, figuresOf(evidence));
  let chi2 = 0;
  for (let i = 0; i < deviations.length; i++) chi2 += deviations[i];
  const lnAmounts = -chi2 / 2 - lnWidening() + PRIORS.part.value * k;
  const lnShares = lnSharesOf(fractions, normal);
  let lnWeight = lnAmounts + lnShares;
  for (let a = 0; a < k; a++) lnWeight += parts[a].lnPrior - PRIORS.part.value;
  return { parts, fractions, relative, held, deviations, chi2, lnAmounts, lnShares, lnWeight };
}

/** Squared deviations, aligned with the evidence. */
function deviationsOf(parts: readonly Part[], figures: Figures): Float64Array {
  const { wanted, at, size, joined: m, value, u, state, equations } = DESK;
  const { fractions, held, amounts } = state;
  const { rows, gap } = equations;
  const deviations = stretch(figures.value.length);
  for (let j = 0; j < size; j++) {
    const off = value[j] - amounts[j] + u[j] * amounts[j];
    deviations[at[j]] = off;
    if (j < m) rows[m * m + j] = off;
    else gap[j] = off;
  }
  weighCovariance(1);
  weighGap(m);
  for (let j = 0; j < size; j++) {
    const i = at[j];
    deviations[i] *= gap[j];
    if (held[j] < value[j]) deviations[i] = Math.min(UNKNOWN, deviations[i]);
  }
  // What the mixture does not hold is an impurity of it, or came along.
  for (let i = 0; i < deviations.length; i++) {
    if (wanted[i] === 1 || figures.atMost[i] === 1 || figures.value[i] === 0) continue;
    let beside = 0;
    for (let a = 0; a < parts.length; a++) beside += fractions[a] * parts[a].along[i];
    const variance = figures.counting[i] ** 2 + IMPURITY * IMPURITY + beside * beside;
    deviations[i] = Math.min(UNKNOWN, figures.value[i] ** 2 / variance);
  }
  return deviations;
}

/**
 * A part that rests on open elements alone is held by nothing where it is: it makes up what they leave room for, but no more than a fair
 * share. Its being small would else count against it.
 * @returns whether a part was raised
 */
function raiseOpen(parts: readonly Part[]): boolean {
  const { size, value, counting2, atMost, holds, ln, state } = DESK;
  const { fractions, held } = state;
  let raised = false;
  for (let a = 0; a < parts.length; a++) {
    if (!parts[a].restsOnOpen) continue;
    let sum = 0;
    for (let b = 0; b < parts.length; b++) sum += fractions[b];
    const fair = PRIORS.share.value * sum;
    let most = Math.max(fair, fractions[a]);
    for (let j = 0; j < size; j++) {
      const own = holds[a * STRIDE + j];
      const left = value[j] + (atMost[j] === 1 ? 0 : Math.sqrt(counting2[j])) - held[j];
      if (own > 0) most = Math.min(most, fractions[a] + Math.max(0, left) / own);
    }
    ln[a] = log(most);
    raised = true;
  }
  return raised;
}

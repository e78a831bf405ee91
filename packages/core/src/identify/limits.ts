import { inflationUnder } from '../fit/quality.ts';
import { weightsOf } from '../fit/design.ts';
import { countsWithin, information as informationWithin, type Column } from '../model/column.ts';
import { channelOf } from '../model/instrument.ts';
import type { Explanation } from './explain.ts';
import { amountThatStands } from './standing-peak.ts';
import { LEAST_SIGMAS, SOFT_BELOW_EV, SOFTEST_BELOW_EV, thresholdOf, type EvidencePlace } from './thresholds.ts';
import { stretch } from '../arithmetic/stretch.ts';

/** Standard normal quantile of 95 %: a content at the limit is found in 95 % of cases. */
const FOUND_IN_95 = 1.645;
/**
 * Rivals are tried rigid here; in a verdict they may shift and widen their lines, and come in pairs. So much more is needed than against
 * rigid ones (measured on 12 overlapping pairs, tests/statistics/verdicts/limits.mjs).
 */
const FREE_RIVALS = 1.8;

/**
 * Detection limits in Currie's sense under the verdict's own rule: the smallest amount that would be called present in 95 % of cases, in
 * this spectrum, under its overlaps. It must stand over nothing, over the best rival, as a peak of its own, and above its own uncertainty.
 * Source: L.A. Currie, Anal. Chem. 40 (1968) 586, for the sense; the rule is that of `findings.ts`.
 */
export interface Limits {
  /** Limit of an element, as an amount; Infinity where no amount would be found. By element index. */
  readonly amount: Float64Array;
  /** The same as a content: its lines may be weaker than thought. */
  readonly content: Float64Array;
  /** The other member that hides it most, by element index; -1 where none does. */
  readonly under: Int32Array;
}

/**
 * Under members' lines an amount of this size is itself in doubt and changes the matrix: its evidence is less than the host without it
 * foretells. By this factor on the amount, in 95 % of cases, where members take `HIDES` of its information or more, and by less in proportion
 * where they take less (36 pairs with bent physics: 0.7 to 1.7, once 2).
 */
const HIDDEN_LOSS = 1.6;

/**
 * Relative standard uncertainty of the counts that a content gives: a content at the limit must be found by who has weaker lines than thought, too.
 * By bent physics contents scatter by 0.1 to 0.28 beside counting (36 pairs); at best, 95 % of analyses without standards are right within
 * 25 % (Newbury, Swyt & Myklebust, Anal. Chem. 67 (1995) 1866, from memory).
 */
const CONTENT_DOUBT = 0.25;

/** Part of an element's information that members must take to hide it. */
const HIDES = 0.5;

/** @param left part of an element's information that is left to it with the members free to follow */
const lossUnderMembers = (left: number): number => 1 + (HIDDEN_LOSS - 1) * Math.min(1, (1 - left) / HIDES);

/** @param misfit C over its expectation, at least 1: evidence is measured in units of it */
export function limitsOf(explanation: Explanation, misfit: number): Limits {
  const { frame, round, fit, channels } = explanation;
  const { templates } = round.design.layout;
  const { penalty } = frame;
  const { information, under } = reducedInformation(explanation);
  const m = templates.length;
  const members = new Set(round.hypothesis.members);
  const amount = new Float64Array(m).fill(Infinity);
  const content = new Float64Array(m).fill(Infinity);
  for (let e = 0; e < m; e++) {
    const own = information[e * m + e];
    if (!(own > 0)) continue;
    const { z, column } = templates[e];
    const threshold = thresholdOf(z, round.design.areas, expectedPlace(explanation, column, own));
    const sigma = 1 / Math.sqrt(own);
    const inflation = inflationUnder(column, channels, fit.expected, frame);
    // In standard deviations of the amount.
    let needed = Math.max(LEAST_SIGMAS * inflation, Math.sqrt(threshold.deltaC * misfit));
    needed = Math.max(needed, Math.sqrt(threshold.margin * misfit + penalty[e]));
    // A member's rivals have been fitted in its place: what is told here is what the counts could show of it.
    const isMember = members.has(e);
    for (let r = 0; r < m && !isMember; r++) {
      const shared = information[e * m + r];
      if (r === e || members.has(r) || !(shared > 0)) continue;
      const apart = 1 - (shared * shared) / (own * information[r * m + r]);
      const over = threshold.margin * misfit + penalty[e] - penalty[r];
      if (over > 0) needed = Math.max(needed, Math.sqrt((FREE_RIVALS * over) / Math.max(apart, 1e-9)));
    }
    const counts = countsWithin(column, frame.range);
    const found = (doubt: number): number => amountFound(needed * sigma, sigma, counts, doubt);
    const alone = found(0);
    const peak = isMember
      ? 0
      : amountThatStands(frame, fit, explanation.parts, z, round.design.areas, column, FOUND_IN_95, alone);
    amount[e] = Math.max(alone, peak) * lossUnderMembers(own / round.problem.G[e * m + e]);
    content[e] = (amount[e] * found(CONTENT_DOUBT)) / alone;
  }
  return { amount, content, under };
}

/** Evidence scatters to and fro: what may come to lie below an energy in one case of twenty. */
const PLACE_SCATTERS = 1.3;

/**
 * Where the evidence for an element would lie: what its soft lines tell, relative to all that is left to it under its overlaps.
 * @param left information on its amount with the members free to follow
 */
function expectedPlace({ frame, round }: Explanation, column: Column, left: number): EvidencePlace {
  const { lo, hi } = frame.range;
  const weights = weightsOf(round.model, 0, lo, hi);
  const { axis } = round.instrument;
  const softest = Math.min(hi, Math.ceil(channelOf(axis, SOFTEST_BELOW_EV)));
  const soft = Math.min(hi, Math.ceil(channelOf(axis, SOFT_BELOW_EV)));
  return {
    below400: (PLACE_SCATTERS * informationWithin(column, weights, lo, softest)) / left,
    soft: (PLACE_SCATTERS * informationWithin(column, weights, lo, soft)) / left,
  };
}

/** Steps in which an amount settles to a hundredth of its standard deviation. */
const STEPS = 12;

/**
 * The amount whose estimate lies above what is needed in 95 % of cases; its own counts scatter too.
 * @param counts counts per unit amount
 * @param physics relative uncertainty of the counts that an amount gives
 */
export function amountFound(needed: number, sigma: number, counts: number, physics = 0): number {
  let amount = needed;
  for (let step = 0; step < STEPS; step++) {
    const own = counts > 0 ? amount / counts : 0;
    amount = needed + FOUND_IN_95 * Math.sqrt(sigma * sigma + own + (physics * amount) ** 2);
  }
  return amount;
}

/** Information on pairs of elements with the members free to follow, m x m; and which member takes most of each element's. */
function reducedInformation({ round }: Explanation): { information: Float64Array; under: Int32Array } {
  const { G, size: m } = round.problem;
  const { members, covariance } = round.hypothesis;
  const k = members.length;
  const follow = stretch(k * m);
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < k; j++) {
      const c = covariance[i * k + j];
      for (let e = 0; e < m; e++) follow[i * m + e] += c * G[members[j] * m + e];
    }
  }
  const information = G.slice();
  const under = new Int32Array(m).fill(-1);
  for (let e = 0; e < m; e++) {
    let most = HIDES * G[e * m + e];
    for (const member of members) {
      const taken = G[e * m + member] ** 2 / G[member * m + member];
      if (member !== e && taken > most) [most, under[e]] = [taken, member];
    }
    if (members.includes(e)) {
      information[e * m + e] = 1 / covariance[members.indexOf(e) * (k + 1)];
      continue;
    }
    for (let i = 0; i < k; i++) {
      const coupling = G[e * m + members[i]];
      for (let r = 0; r < m; r++) information[e * m + r] -= coupling * follow[i * m + r];
    }
  }
  return { information, under };
}

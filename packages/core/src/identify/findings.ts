import { symbolOf } from '../atomic/elements.ts';
import type { FittedElement } from '../fit/fitted-elements.ts';
import { gainsOf } from '../fit/subset.ts';
import { massFractions, type OxygenBy } from './amounts.ts';
import { thresholdOf, evidenceOf, probabilityInside, probabilityOutside } from './thresholds.ts';
import { CANDIDATE_ELEMENTS, priorPenalty } from './candidates.ts';
import type { Explanation } from './explain.ts';
import type { ElementFinding, FindingData, FindingReason, MassFraction, Rival, Verdict } from './finding.ts';
import { foundLines } from './lines.ts';
import { originOf } from './mount.ts';
import { settlingLines } from './settling.ts';
import { standingPeak, stands } from './standing-peak.ts';
import type { LeaveOneOut } from './leave-one-out.ts';

/** Chi-square that an element outside the explanation must be worth to be called `open`: something is there. */
const OPEN_GAIN = 12;
/** An amount below this many standard deviations of its own fit is never required. */
const LEAST_SIGMAS = 4;
/** A detection limit above this mass fraction says nothing: the spectrum is blind to the element. */
const BLIND_FRACTION = 0.4;
/** Currie's factors for 5 % false alarms and 5 % misses. Source: Currie, Anal. Chem. 40 (1968) 586. */
const CURRIE_CONSTANT = 2.71;
const CURRIE_SIGMA = 3.29;

/** Findings on every element considered, ascending Z. */
export function findingsOf(
  explanation: Explanation,
  origins: ReadonlyMap<number, 'setting' | 'either'>,
  oxygen: OxygenBy = 'line',
): FindingData[] {
  const { leaveOuts, candidates } = explanation;
  const context = contextOf(explanation, oxygen);
  const contested = contestedElements(explanation, leaveOuts);
  const index = new Map(candidates.map((z, e) => [z, e]));
  return CANDIDATE_ELEMENTS.map((z) => {
    const e = index.get(z);
    const origin = originOf(z, origins);
    if (e === undefined) return unseen(z, origin, { kind: 'not-excited' });
    const leaveOut = leaveOuts.get(e);
    return leaveOut
      ? memberFinding(explanation, context, e, leaveOut, origin)
      : outsideFinding(explanation, context, e, contested, origin);
  });
}

interface Context {
  readonly gains: ReturnType<typeof gainsOf>;
  readonly fitted: ReadonlyMap<number, FittedElement>;
  readonly fractions: ReadonlyMap<number, MassFraction>;
  /** Sum of the fitted amounts. */
  readonly total: number;
  /** Counts inside the range per unit amount, by element index. */
  readonly inRange: Float64Array;
  /** C over its expectation, at least 1. */
  readonly inflation: number;
}

function contextOf({ frame, round, fit, fitted, misfit }: Explanation, oxygen: OxygenBy): Context {
  const inRange = Float64Array.from(round.design.layout.templates, ({ column }) => {
    let sum = 0;
    for (let i = Math.max(frame.range.lo, column.lo); i < Math.min(frame.range.hi, column.hi); i++)
      sum += column.values[i];
    return sum;
  });
  return {
    gains: gainsOf(round.problem, round.hypothesis),
    fitted,
    fractions: massFractions(
      [...fitted.values()].filter(({ amount }) => amount > 0),
      fit.design.areas,
      oxygen,
    ),
    total: [...fitted.values()].reduce((sum, { amount }) => sum + amount, 0),
    inRange,
    inflation: Math.max(1, misfit.c / misfit.expected),
  };
}

/** Outside elements that could stand in for a member whose place is not secured, with the member's index. */
function contestedElements({ round }: Explanation, leaveOuts: ReadonlyMap<number, LeaveOneOut>): Map<number, number> {
  const out = new Map<number, number>();
  for (const [member, leaveOut] of leaveOuts) {
    if (
      leaveOut.margin >=
      thresholdOf(round.design.layout.templates[member].z, round.design.areas, leaveOut.evidence).margin
    )
      continue;
    for (const e of leaveOut.added) if (!out.has(e)) out.set(e, member);
  }
  return out;
}

function memberFinding(
  explanation: Explanation,
  context: Context,
  e: number,
  leaveOut: LeaveOneOut,
  origin: ElementFinding['origin'],
): FindingData {
  const { frame, round } = explanation;
  const { z } = round.design.layout.templates[e];
  const { amount, sigma, countsPerAmount, correlations } = context.fitted.get(z)!;
  const threshold = thresholdOf(z, round.design.areas, leaveOut.evidence);
  // Where the model misfits, chi-square counts for less: evidence is measured in units of the misfit.
  const deltaC = leaveOut.deltaNothing / context.inflation;
  const margin = leaveOut.margin / context.inflation;
  const short = deltaC - threshold.deltaC;
  const enough = short >= 0 && margin >= threshold.margin && amount >= LEAST_SIGMAS * sigma;
  const peak = enough ? standingPeak(frame, explanation.fit, explanation.parts, z) : null;
  const verdict: Verdict = peak && stands(peak) ? 'present' : 'open';
  const rivals = rivalsOf(explanation, leaveOut);
  return {
    symbol: symbolOf(z),
    z,
    verdict,
    probability: amount > 0 ? probabilityOf(explanation, context, e) : probabilityOutside(0, frame.penalty[e]),
    counts: { value: amount * countsPerAmount, sigma: sigma * countsPerAmount },
    massFraction: context.fractions.get(z) ?? null,
    limit: limitOf(context, e, sigma),
    origin,
    evidence: { deltaC: leaveOut.deltaNothing, margin: leaveOut.margin },
    correlations: [...correlations],
    lines: foundLines(z, round.design.areas, amount),
    rivals,
    reason: memberReason(verdict, short, leaveOut, rivals, frame.penalty[e]),
  };
}

/** Probability of a member of the explanation. */
function probabilityOf({ round, leaveOuts }: Explanation, { inflation }: Context, e: number): number {
  const leaveOut = leaveOuts.get(e)!;
  const threshold = thresholdOf(round.design.layout.templates[e].z, round.design.areas, leaveOut.evidence);
  return probabilityInside(evidenceOf(leaveOut.deltaNothing / inflation, leaveOut.margin / inflation, threshold));
}

/** Part of a doubted member's improbability that goes to each element that could stand in for it. */
const IN_PLACE_SHARE = 0.5;

function memberReason(
  verdict: Verdict,
  short: number,
  leaveOut: LeaveOneOut,
  rivals: readonly Rival[],
  penalty: number,
): FindingReason {
  const rival = rivals[0] ?? null;
  if (verdict === 'present') return { kind: 'required', rise: leaveOut.deltaNothing, rival };
  if (short < 0) return { kind: 'short', rise: leaveOut.deltaNothing };
  return rival ? { kind: 'rival-fits', rival } : { kind: 'rare', asked: penalty };
}

function rivalsOf({ frame, round }: Explanation, leaveOut: LeaveOneOut): Rival[] {
  if (leaveOut.added.length === 0) return [];
  return [
    {
      kind: 'element',
      name: leaveOut.added.map((e) => symbolOf(round.design.layout.templates[e].z)).join('+'),
      deltaC: leaveOut.rivalMargin,
      settling: settlingLines(frame, round, leaveOut),
    },
  ];
}

function outsideFinding(
  explanation: Explanation,
  context: Context,
  e: number,
  contested: ReadonlyMap<number, number>,
  origin: ElementFinding['origin'],
): FindingData {
  const { frame, round } = explanation;
  const { z } = round.design.layout.templates[e];
  const { gain, sigma, amount } = context.gains;
  const limit = limitOf(context, e, sigma[e]);
  if (!limit || limit.massFraction > BLIND_FRACTION) {
    return unseen(z, origin, { kind: 'hidden' });
  }
  const member = contested.get(e);
  const open = member !== undefined || gain[e] >= OPEN_GAIN;
  const value = Math.max(0, amount[e]) * context.inRange[e];
  const rival = member === undefined ? null : symbolOf(round.design.layout.templates[member].z);
  // Where a member may not be there, what stands in for it may; the rest of its doubt is that nothing is there at all.
  const inPlaceOf = member === undefined ? 0 : IN_PLACE_SHARE * (1 - probabilityOf(explanation, context, member));
  return {
    symbol: symbolOf(z),
    z,
    verdict: open ? 'open' : 'not-seen',
    probability: Math.min(open ? 0.5 : 0.3, Math.max(probabilityOutside(gain[e], frame.penalty[e]), inPlaceOf)),
    counts: { value, sigma: sigma[e] * context.inRange[e] },
    massFraction: null,
    limit,
    origin,
    evidence: { deltaC: gain[e], margin: gain[e] - frame.penalty[e] },
    correlations: [],
    lines: foundLines(z, round.design.areas, Math.max(0, amount[e])),
    rivals: rival ? [{ kind: 'element', name: rival, deltaC: gain[e] - frame.penalty[e], settling: [] }] : [],
    reason: rival ? { kind: 'stands-in', for: rival } : { kind: open ? 'gains-little' : 'no-counts' },
  };
}

/** Currie detection limit from the standard deviation of the amount; null where the amount is not determined. */
function limitOf(context: Context, e: number, sigma: number): ElementFinding['limit'] {
  if (!Number.isFinite(sigma)) return null;
  const perAmount = context.inRange[e];
  const counts = CURRIE_CONSTANT + CURRIE_SIGMA * sigma * perAmount;
  const amount = counts / perAmount;
  return { counts, massFraction: Math.min(1, amount / (context.total + amount)) };
}

function unseen(z: number, origin: ElementFinding['origin'], reason: FindingReason): FindingData {
  return {
    symbol: symbolOf(z),
    z,
    verdict: 'blind',
    // The spectrum says nothing, so the prior stands.
    probability: probabilityOutside(0, priorPenalty(z)),
    counts: { value: 0, sigma: 0 },
    massFraction: null,
    limit: null,
    origin,
    evidence: { deltaC: 0, margin: 0 },
    correlations: [],
    lines: [],
    rivals: [],
    reason,
  };
}

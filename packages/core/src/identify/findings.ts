import { sumOver } from '../arithmetic/sum.ts';
import { symbolOf } from '../atomic/elements.ts';
import type { FittedElement } from '../fit/fitted-elements.ts';
import { gainsOf } from '../fit/subset.ts';
import { countsWithin } from '../model/column.ts';
import { massFractions, type OxygenBy } from './amounts.ts';
import { thresholdOf, evidenceOf, probabilityInside, probabilityOutside } from './thresholds.ts';
import { CANDIDATE_ELEMENTS, priorPenalty } from './candidates.ts';
import { detectorBrings, holderBrings, OWN_AT_MOST, SILICON } from './detector-brings.ts';
import { doubtOf } from './doubt.ts';
import type { Explanation } from './explain.ts';
import type { ElementFinding, FindingData, FindingReason, MassFraction, Rival } from './finding.ts';
import { limitsOf, type Limits } from './limits.ts';
import { foundLines } from './lines.ts';
import { originOf } from './mount.ts';
import { settlingLines } from './settling.ts';
import type { LeaveOneOut } from './leave-one-out.ts';

/** Chi-square that an element outside the explanation must be worth to be called `open`: something is there. */
const OPEN_GAIN = 12;
/** A detection limit above this mass fraction says nothing: the spectrum is blind to the element. */
const BLIND_FRACTION = 0.4;

/** Findings on every element considered, ascending Z. */
export function findingsOf(
  explanation: Explanation,
  origins: ReadonlyMap<number, 'setting' | 'either'>,
  oxygen: OxygenBy = 'line',
): FindingData[] {
  const { leaveOuts, candidates } = explanation;
  const context = contextOf(explanation, oxygen);
  const contested = contestedElements(explanation, leaveOuts);
  const found: FindingData[] = [];
  for (const z of CANDIDATE_ELEMENTS) {
    const e = candidates.indexOf(z);
    const origin = originOf(z, origins);
    const leaveOut = leaveOuts.get(e);
    if (e < 0) found.push(unseen(z, origin, { kind: 'not-excited' }));
    else if (leaveOut) found.push(memberFinding(explanation, context, e, leaveOut, origin));
    else found.push(outsideFinding(explanation, context, e, contested, origin));
  }
  return hiddenByPresent(found);
}

/** Only what is present hides, and only what is not. */
function hiddenByPresent(found: readonly FindingData[]): FindingData[] {
  const present = new Set<string>();
  for (const { verdict, symbol } of found) if (verdict === 'present') present.add(symbol);
  const out: FindingData[] = [];
  for (const one of found) {
    const isHidden = one.under !== null && present.has(one.under) && one.verdict !== 'present';
    out.push(one.under === null || isHidden ? one : { ...one, under: null });
  }
  return out;
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
  readonly limits: Limits;
  /** Counts in the fitted range. */
  readonly counts: number;
}

function contextOf(explanation: Explanation, oxygen: OxygenBy): Context {
  const { frame, round, fit, fitted, misfit } = explanation;
  const inflation = Math.max(1, misfit.c / misfit.expected);
  const { templates } = round.design.layout;
  const inRange = new Float64Array(templates.length);
  for (let e = 0; e < inRange.length; e++) inRange[e] = countsWithin(templates[e].column, frame.range);
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
    inflation,
    limits: limitsOf(explanation, inflation),
    counts: sumOver(frame.counts, frame.range.lo, frame.range.hi),
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
  const rivals = rivalsOf(explanation, leaveOut);
  const own = detectorBrings(explanation.fit, z);
  const perCount = perCountOf(context, z);
  const rise = leaveOut.deltaNothing;
  const byHolder = holderBrings(z, perCount, perCountOf(context, SILICON));
  const shown = {
    z,
    short,
    margin,
    threshold,
    rise,
    rivals,
    detectorBrings: perCount < own.usual,
    holderBrings: byHolder,
  };
  const doubt = doubtOf(explanation, shown);
  const ownAlone = perCount < own.atMost && origin === 'specimen';
  const probability =
    amount > 0 ? probabilityOf(explanation, context, e, doubt) : probabilityOutside(0, frame.penalty[e]);
  return {
    symbol: symbolOf(z),
    z,
    verdict: doubt === null ? 'present' : 'open',
    probability: ownAlone ? Math.min(probability, doubt ? OWN_AT_MOST.doubted : OWN_AT_MOST.required) : probability,
    counts: { value: amount * countsPerAmount, sigma: sigma * countsPerAmount },
    massFraction: context.fractions.get(z) ?? null,
    limit: limitOf(context, e),
    under: underOf(explanation, context, e),
    origin: (ownAlone || byHolder) && origin === 'specimen' ? 'either' : origin,
    evidence: { deltaC: rise, margin: leaveOut.margin },
    correlations: [...correlations],
    lines: foundLines(z, round.design.areas, amount),
    rivals,
    reason: doubt ?? { kind: 'required', rise, rival: rivals[0] ?? null, orDetector: ownAlone },
  };
}

/** What was fitted of an element, counts per count of the spectrum. */
function perCountOf({ fitted, counts }: Context, z: number): number {
  const one = fitted.get(z);
  return one ? (one.amount * one.countsPerAmount) / counts : 0;
}

/** Doubts that no chi-square knows of: with them an element was there in three of ten cases. */
const BESIDE_THE_EVIDENCE: ReadonlySet<FindingReason['kind']> = new Set([
  'faint',
  'behind-window',
  'detector-own',
  'holder',
  'no-peak',
  'misplaced',
  'axis-doubtful',
  'excitation-doubtful',
  'unfinished',
  'poor-fit-here',
]);

const DOUBTED_AT_MOST = 0.3;

/** Probability of a member of the explanation. @param doubt why it is not required, where it is not */
function probabilityOf(
  { round, leaveOuts, unfinished }: Explanation,
  { inflation }: Context,
  e: number,
  doubt: FindingReason | null = null,
): number {
  const leaveOut = leaveOuts.get(e)!;
  const threshold = thresholdOf(round.design.layout.templates[e].z, round.design.areas, leaveOut.evidence);
  const evidence = evidenceOf(leaveOut.deltaNothing / inflation, leaveOut.margin / inflation, threshold);
  const probability = probabilityInside(evidence);
  const beside = unfinished || (doubt !== null && BESIDE_THE_EVIDENCE.has(doubt.kind));
  return beside ? Math.min(probability, DOUBTED_AT_MOST) : probability;
}

/** Part of a doubted member's improbability that goes to each element that could stand in for it. */
const IN_PLACE_SHARE = 0.25;

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
  const limit = limitOf(context, e);
  if (!limit || limit.massFraction > BLIND_FRACTION) {
    return { ...unseen(z, origin, { kind: 'hidden' }), under: underOf(explanation, context, e) };
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
    under: underOf(explanation, context, e),
    origin,
    evidence: { deltaC: gain[e], margin: gain[e] - frame.penalty[e] },
    correlations: [],
    lines: foundLines(z, round.design.areas, Math.max(0, amount[e])),
    rivals: rival ? [{ kind: 'element', name: rival, deltaC: gain[e] - frame.penalty[e], settling: [] }] : [],
    reason: rival ? { kind: 'stands-in', for: rival } : { kind: open ? 'gains-little' : 'no-counts' },
  };
}

/** The detection limit of an element in counts and as a mass fraction; null where no amount would be found. */
function limitOf({ limits, inRange, total }: Context, e: number): ElementFinding['limit'] {
  const amount = limits.amount[e];
  if (!Number.isFinite(amount)) return null;
  const content = limits.content[e];
  return { counts: amount * inRange[e], massFraction: Math.min(1, content / (total + content)) };
}

/** Symbol of the member of the explanation that hides an element most; null where none does. */
function underOf({ round }: Explanation, { limits }: Context, e: number): string | null {
  const member = limits.under[e];
  return member < 0 ? null : symbolOf(round.design.layout.templates[member].z);
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
    under: null,
    origin,
    evidence: { deltaC: 0, margin: 0 },
    correlations: [],
    lines: [],
    rivals: [],
    reason,
  };
}

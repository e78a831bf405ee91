import { picked } from '../arithmetic/pick.ts';
import type { StatedInstrument } from '../fit/instrument-prior.ts';
import { refitWithout, type Refit } from '../fit/refit.ts';
import { fitSpectrum, type SpectrumFit, type SpectrumFitOptions } from '../fit/spectrum-fit.ts';
import { evidencePlace, leaveOneOut, type LeaveOneOut } from './leave-one-out.ts';
import { fittedInPlace, ownOf } from './refits.ts';
import { linearised, searched, withSet, type RoundStart } from './round.ts';
import type { Hypothesis } from './search.ts';
import type { Frame, Round } from './state.ts';

/** An explanation that stands: fitted by maximum likelihood with each element, without it, and with its rivals. */
export interface Decision {
  readonly fit: SpectrumFit;
  /** The search's linear model around the fit: what elements outside the explanation would bring. */
  readonly round: Round;
  /** What became of leaving each member out, by element index. */
  readonly leaveOuts: ReadonlyMap<number, LeaveOneOut>;
  /** The search around the fit has nothing to add to its elements or to take from them. */
  readonly settled: boolean;
}

/** What a decision starts from: a settled round of the search. */
export interface Proposal {
  readonly frame: Frame;
  readonly candidates: readonly number[];
  readonly stated: StatedInstrument;
  /** Where the settled round stands, and that round. */
  readonly start: RoundStart;
  readonly round: Round;
  readonly options: SpectrumFitOptions;
  /** Whether members are compared with their rivals by full fits; otherwise the search's own figures stand. */
  readonly compared: boolean;
}

/** Times that the set may change: by the search around a fit, or by an alternative that explains the counts better. */
const MOST_CHANGES = 4;
/** An alternative better by more than this takes over. */
const TAKES_OVER = 2;
/** A gain that is none: rounding, chi-square. */
const NO_GAIN = 0.01;

/** Decides between sets of elements by maximum likelihood: the search, made linear around the fit, only proposes. */
export function decide(proposal: Proposal): Decision {
  const { frame, candidates } = proposal;
  let fit = proposedFit(proposal);
  for (let changes = proposal.compared ? 0 : MOST_CHANGES; ; changes++) {
    const linear = linearised(frame, candidates, startAround(proposal, fit), fit.design);
    const round = withSet(frame, linear, membersOf(candidates, fit));
    const found = searched(frame, linear, [round.hypothesis.members]);
    const proposed = found.hypothesis.score < round.hypothesis.score - TAKES_OVER;
    const other =
      proposed && changes < MOST_CHANGES && !frame.work?.isSpent
        ? fitOf(proposal, linear.start, found.hypothesis)
        : null;
    if (other && scoreOf(proposal, other) < scoreOf(proposal, fit) - TAKES_OVER) {
      fit = other;
      continue;
    }
    const { leaveOuts, better, asGood } = compared(proposal, fit, round);
    if (!better || changes >= MOST_CHANGES || frame.work?.isSpent) return { fit, round, leaveOuts, settled: !better };
    const next = fitOf(proposal, linear.start, better);
    if (asGood && !standsAlone(proposal, next)) return { fit, round, leaveOuts, settled: true };
    fit = next;
  }
}

/** Whether the search around a fit adds nothing to its elements. */
function standsAlone(proposal: Proposal, fit: SpectrumFit): boolean {
  const { frame, candidates } = proposal;
  const linear = linearised(frame, candidates, startAround(proposal, fit), fit.design);
  const { hypothesis } = withSet(frame, linear, membersOf(candidates, fit));
  return !(searched(frame, linear, [hypothesis.members]).hypothesis.score < hypothesis.score - NO_GAIN);
}

/** The fit of what is proposed, undecided: what is read for its instrument alone needs no more. */
export const proposedFit = (proposal: Proposal): SpectrumFit =>
  fitOf(proposal, proposal.start, proposal.round.hypothesis);

/** The maximum-likelihood fit of a set, its matrix and axis settled; the start has been settled to near it. */
function fitOf(
  { frame, candidates, stated, options }: Proposal,
  start: RoundStart,
  { members, x }: Hypothesis,
): SpectrumFit {
  const amounts = picked(x, members);
  return fitSpectrum(frame, zsOf(candidates, members), start, amounts, stated, { ...options, near: true });
}

const zsOf = (candidates: readonly number[], members: readonly number[]): number[] => members.map((e) => candidates[e]);

/** Element indices that a fit gives an amount above 0. */
function membersOf(candidates: readonly number[], { zs, fit }: SpectrumFit): number[] {
  const found = new Set(zs.filter((_, k) => fit.coefficients[k] > 0));
  return candidates.flatMap((z, e) => (found.has(z) ? [e] : []));
}

/** Penalised C and the prior odds of the elements. */
function scoreOf({ frame, candidates }: Proposal, fit: SpectrumFit): number {
  return membersOf(candidates, fit).reduce((sum, e) => sum + frame.penalty[e], fit.fit.penalised);
}

/** A start for rounds exactly where a fit stands. */
function startAround({ candidates, start }: Proposal, { at, zs, fit }: SpectrumFit): RoundStart {
  const amounts = Float64Array.from(candidates, (z) => {
    const k = zs.indexOf(z);
    return k < 0 ? 0 : fit.coefficients[k];
  });
  return { ...start, ...at, amounts, doubted: amounts, relativeError: 0, banned: new Set() };
}

/** Rises beyond these (chi-square) are far from any threshold: the search's own figure is close enough (below by 7 % in the median of 230 from 100 on, above by 8 % at most). */
const FAR_FROM_NOTHING = 300;
const FAR_FROM_RIVALS = 200;

/** Leaves each member out, and fits what the search proposes in its place. */
function compared(
  proposal: Proposal,
  fit: SpectrumFit,
  round: Round,
): {
  readonly leaveOuts: ReadonlyMap<number, LeaveOneOut>;
  readonly better: Hypothesis | null;
  readonly asGood: boolean;
} {
  const { frame } = proposal;
  const leaveOuts = new Map<number, LeaveOneOut>();
  let better: Hypothesis | null = null;
  let lowest = 0;
  let asGood = false;
  for (const e of round.hypothesis.members) {
    const proposed = leaveOneOut(frame, round, e, new Set());
    const decided = proposal.compared && !frame.work?.isSpent ? decidedBy(proposal, fit, round, proposed) : proposed;
    leaveOuts.set(e, decided);
    // Of two sets as good the smaller one stands: which of them a search comes to first says nothing.
    const least = decided.best.members.length < round.hypothesis.members.length ? 0 : -TAKES_OVER;
    if (decided.margin >= Math.min(lowest, least)) continue;
    [better, lowest, asGood] = [decided.best, decided.margin, decided.margin >= -TAKES_OVER];
  }
  return { leaveOuts, better, asGood };
}

/** A proposal of the search, its figures replaced by those of maximum-likelihood fits. */
function decidedBy(proposal: Proposal, fit: SpectrumFit, round: Round, proposed: LeaveOneOut): LeaveOneOut {
  const { frame } = proposal;
  const { element, best, instead } = proposed;
  let decided = proposed;
  if (proposed.deltaNothing < FAR_FROM_NOTHING) {
    const { rise, expected } = refitWithout(frame, fit, ownOf(fit, proposal.candidates[element]));
    decided = {
      ...decided,
      deltaNothing: rise,
      expectedWithout: expected,
      evidence: evidencePlace(frame, fit.at.instrument, fit.fit.expected, expected),
    };
  }
  if (proposed.margin < FAR_FROM_RIVALS) {
    const alternative = inPlace(proposal, fit, best, committee(round, best));
    // With nothing in its place is an alternative as well.
    const least = Math.min(alternative.rise, decided.deltaNothing - frame.penalty[element]);
    decided = { ...decided, margin: least };
    const rival = sameSet(best, instead) ? alternative : inPlace(proposal, fit, instead, committee(round, instead));
    decided = { ...decided, rivalMargin: rival.rise, expectedInstead: rival.expected };
  }
  return decided;
}

const sameSet = (a: Hypothesis, b: Hypothesis): boolean =>
  a.members.length === b.members.length && a.members.every((e, i) => e === b.members[i]);

/**
 * Each newcomer after the first in one element's place brings an amount that is free to choose: Occam's factor, 2 ln of the range of
 * amounts over the standard uncertainty of one, is 8 for one that is known to 2 % of its range.
 */
const OCCAM = 8;

/** What a committee of newcomers in one element's place must make good, chi-square. */
export function committee(
  { hypothesis }: { readonly hypothesis: Pick<Hypothesis, 'members'> },
  { members }: Pick<Hypothesis, 'members'>,
): number {
  const newcomers = members.filter((e) => !hypothesis.members.includes(e)).length;
  return OCCAM * Math.max(0, newcomers - 1);
}

/** Another set in the place of the fit's; its rise counts the prior odds. */
function inPlace(proposal: Proposal, fit: SpectrumFit, set: Hypothesis, occam: number): Refit {
  const { frame, candidates, stated } = proposal;
  const other = fittedInPlace(frame, candidates, stated, fit, set);
  return { rise: scoreOf(proposal, other) + occam - scoreOf(proposal, fit), expected: other.fit.expected };
}

import type { StatedInstrument } from '../fit/instrument-prior.ts';
import { thresholdOf, isMoreAsked } from './thresholds.ts';
import { solveRound, type RoundStart } from './round.ts';
import { nextStart } from './converge.ts';
import type { Frame, Round } from './state.ts';
import { evidenceFor, gapOf, inSteadOf, type Gap, type Stead } from './leave-one-out.ts';

/** A leave-one-out whose margin is below this is worth a round of its own where no full fit will compare the two, in chi-square. */
const WORTH_A_ROUND = 80;
/**
 * The same for elements that must show more than ordinary ones: with them in place a neighbour's soft lines may have given way so
 * far that a leave-one-out, linear around that state, does not find the way back.
 */
const WORTH_A_ROUND_IF_SOFT = 1000;
/** An alternative better by more than this takes over. */
const TAKES_OVER = 2;
/** Take-overs before the contest is ended. */
const MAX_TAKE_OVERS = 4;

/** What a contest is held over. */
export interface Contestants {
  readonly frame: Frame;
  readonly candidates: readonly number[];
  /** What the settled round started from. */
  readonly start: RoundStart;
  readonly stated: StatedInstrument;
  /** Whether full fits will compare every member with what would stand in its place, near where the explanation stands. */
  readonly compared: boolean;
}

export interface Contest {
  readonly round: Round;
  readonly takeOvers: number;
}

/**
 * Contests every member of an explanation. In a leave-one-out the newcomers are rigid; where that leaves them close, the
 * alternative is given a round of its own, with all the doubt about its lines that the member enjoys. What then explains
 * the counts better takes over and is contested in turn.
 */
export function contest(contestants: Contestants, settled: Round): Contest {
  const { frame, candidates, start, compared } = contestants;
  let round = settled;
  for (let takeOvers = 0; ; takeOvers++) {
    let better: Round | undefined;
    for (const element of round.hypothesis.members) {
      if (frame.work?.isSpent) return { round, takeOvers };
      const gap = gapOf(frame, round, element);
      if (compared && !mustShowMore(frame, round, gap)) continue;
      const stead = inSteadOf(frame, round, gap, start.banned);
      if (!isWorthARound(contestants, round, stead)) continue;
      const refined = refine(contestants, round, stead);
      if (refined.merit < (better ?? round).merit - TAKES_OVER) better = refined;
    }
    if (!better || takeOvers === MAX_TAKE_OVERS) return { round, takeOvers };
    round = unbannedRound(frame, candidates, start, better);
  }
}

/** Whether what would stand in for a member is given a round of its own. */
export function isWorthARound({ frame, compared }: Contestants, round: Round, stead: Stead): boolean {
  const { margin, added } = stead;
  if (!compared && margin < WORTH_A_ROUND && added.length > 0) return true;
  return margin < WORTH_A_ROUND_IF_SOFT && mustShowMore(frame, round, stead);
}

/** Whether a member must show more than ordinary ones, where the counts that speak for it lie. */
function mustShowMore(frame: Frame, round: Round, gap: Gap): boolean {
  const { layout, areas } = round.design;
  return isMoreAsked(thresholdOf(layout.templates[gap.element].z, areas, evidenceFor(frame, round, gap)));
}

/** Rounds that an alternative far from the round's state gets to settle its own matrix and axis. */
const FAR_ROUNDS = 3;

/** The alternative of a leave-one-out with nuisances of its own; where it lies far from the round's state, with a matrix of its own. */
function refine(
  { frame, candidates, start, stated }: Contestants,
  round: Round,
  { element, margin, told }: Stead,
): Round {
  const banned = new Set([...start.banned, element]);
  let around: RoundStart = {
    ...start,
    model: round.model,
    background: round.background,
    amounts: told.hypothesis.x,
    doubted: told.hypothesis.x,
    banned,
  };
  let best = solveRound(frame, candidates, around);
  if (margin < WORTH_A_ROUND) return best;
  let last = best;
  for (let again = 1; again < FAR_ROUNDS; again++) {
    around = nextStart(frame, around, last, stated);
    last = solveRound(frame, candidates, around);
    if (last.merit < best.merit) best = last;
  }
  return best;
}

/** A round from the alternative with the ban lifted; the alternative itself if that is no better. */
function unbannedRound(frame: Frame, candidates: readonly number[], start: RoundStart, better: Round): Round {
  const next = solveRound(frame, candidates, {
    ...start,
    model: better.model,
    background: better.background,
    amounts: better.hypothesis.x,
    doubted: better.hypothesis.x,
  });
  return next.merit < better.merit ? next : better;
}

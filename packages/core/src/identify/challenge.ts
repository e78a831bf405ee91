import type { StatedInstrument } from '../fit/instrument-prior.ts';
import { barOf, isMoreAsked } from './bars.ts';
import { solveRound, type RoundStart } from './round.ts';
import { nextStart } from './settle.ts';
import type { Frame, Round } from './state.ts';
import { leaveOut, type Trial } from './trial.ts';

/** A trial whose margin is below this is worth a round of its own, in chi-square. */
const WORTH_A_ROUND = 80;
/**
 * The same for elements that must show more than ordinary ones: with them in place a neighbour's soft lines may have given way so
 * far that a trial, linear around that state, does not find the way back.
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
}

export interface Contest {
  readonly round: Round;
  /** One trial per member of the round's explanation, by element index. */
  readonly trials: ReadonlyMap<number, Trial>;
  readonly takeOvers: number;
}

/**
 * Challenges every member of an explanation. In a trial the newcomers are rigid; where that leaves them close, the
 * alternative is given a round of its own, with all the doubt about its lines that the member enjoys. What then explains
 * the counts better takes over and is challenged in turn.
 */
export function challenge(contestants: Contestants, settled: Round): Contest {
  const { frame, candidates, start } = contestants;
  let round = settled;
  for (let takeOvers = 0; ; takeOvers++) {
    const trials = new Map<number, Trial>();
    let better: Round | undefined;
    for (const element of round.hypothesis.members) {
      const trial = leaveOut(frame, round, element, start.banned);
      const refined = isWorthARound(round, trial) ? refine(contestants, round, trial) : null;
      if (refined && refined.merit < (better ?? round).merit - TAKES_OVER) better = refined;
      trials.set(element, refined ? closer(trial, refined.merit - round.merit) : trial);
    }
    if (!better || takeOvers === MAX_TAKE_OVERS) return { round, trials, takeOvers };
    round = unbannedRound(frame, candidates, start, better);
  }
}

function isWorthARound({ design }: Round, { element, margin, added, evidence }: Trial): boolean {
  if (margin < WORTH_A_ROUND && added.length > 0) return true;
  return margin < WORTH_A_ROUND_IF_SOFT && isMoreAsked(barOf(design.templates[element].z, design.areas, evidence));
}

/** A trial whose alternative, with doubts of its own, came closer. */
function closer(trial: Trial, margin: number): Trial {
  return { ...trial, margin: Math.min(trial.margin, margin), rivalMargin: Math.min(trial.rivalMargin, margin) };
}

/** Rounds that an alternative far from the round's state gets to settle its own matrix and axis. */
const FAR_ROUNDS = 3;

/** The alternative of a trial with nuisances of its own; where it lies far from the round's state, with a matrix of its own. */
function refine({ frame, candidates, start, stated }: Contestants, round: Round, trial: Trial): Round {
  const banned = new Set([...start.banned, trial.element]);
  let around: RoundStart = {
    ...start,
    model: round.model,
    background: round.background,
    amounts: trial.instead.x,
    doubted: trial.instead.x,
    banned,
  };
  let best = solveRound(frame, candidates, around);
  if (trial.margin < WORTH_A_ROUND) return best;
  let last = best;
  for (let again = 1; again < FAR_ROUNDS; again++) {
    around = nextStart(around, last, stated);
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

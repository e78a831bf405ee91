import { solveRound, type RoundStart } from './round.ts';
import type { Frame, Round } from './state.ts';
import { leaveOut, type Trial } from './trial.ts';

/** A trial whose margin is below this is worth a round of its own, in chi-square. */
const WORTH_A_ROUND = 80;
/** An alternative better by more than this takes over. */
const TAKES_OVER = 2;
/** Take-overs before the contest is ended. */
const MAX_TAKE_OVERS = 4;

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
 * @param start what the round started from
 */
export function challenge(frame: Frame, candidates: readonly number[], start: RoundStart, settled: Round): Contest {
  let round = settled;
  for (let takeOvers = 0; ; takeOvers++) {
    const trials = new Map<number, Trial>();
    let better: Round | undefined;
    for (const element of round.hypothesis.members) {
      const trial = leaveOut(frame, round, element, start.banned);
      const refined =
        trial.margin < WORTH_A_ROUND && trial.added.length > 0 ? refine(frame, candidates, start, round, trial) : null;
      if (refined && refined.merit < (better ?? round).merit - TAKES_OVER) better = refined;
      trials.set(element, refined ? closer(trial, refined.merit - round.merit) : trial);
    }
    if (!better || takeOvers === MAX_TAKE_OVERS) return { round, trials, takeOvers };
    round = unbannedRound(frame, candidates, start, better);
  }
}

/** A trial whose alternative, with doubts of its own, came closer. */
function closer(trial: Trial, margin: number): Trial {
  return { ...trial, margin: Math.min(trial.margin, margin), rivalMargin: Math.min(trial.rivalMargin, margin) };
}

/** The alternative of a trial with nuisances of its own. */
function refine(frame: Frame, candidates: readonly number[], start: RoundStart, round: Round, trial: Trial): Round {
  return solveRound(frame, candidates, {
    ...start,
    model: round.model,
    background: round.background,
    amounts: trial.instead.x,
    doubted: trial.instead.x,
    banned: new Set([...start.banned, trial.element]),
  });
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

import { erfc } from '../detector/error-function.ts';
import type { Instrument } from '../model/instrument.ts';
import type { Question } from './question.ts';
import { compare } from './comparison.ts';
import { separation, type TellingLine } from './separation.ts';

/** A measurement proposed for a question. */
export interface Proposal {
  readonly beamKev: number;
  readonly counts: number;
  /** Expected chi-square between the explanations, whichever is true (the smaller of both). */
  readonly expectedChiSquare: number;
  /** Probability that the measurement settles the question, whichever explanation is true. */
  readonly confidence: number;
  /** Lines that will tell, if the element is there. */
  readonly lines: readonly TellingLine[];
}

export interface Plan {
  readonly question: Question;
  /** The cheapest measurement that settles it; null where none of those tried does. */
  readonly proposal: Proposal | null;
  /** The best of those that do not; null where one does. */
  readonly best: Proposal | null;
}

export interface PlanConditions {
  readonly instrument: Instrument;
  readonly channels: number;
  readonly takeOffDeg: number;
}

/** Beam energies of a scanning microscope, keV (common practice, no source). */
export const BEAMS_KEV = [5, 8, 10, 12, 15, 20, 25, 30] as const;
/** Counts of a further measurement: from seconds to many minutes. */
export const COUNTS = [3e4, 1e5, 3e5, 1e6] as const;
/** Chi-square at which a question counts as settled: what an element with ordinary lines must show (identify/thresholds.ts). */
const SETTLED = 36;
/** Wanted probability that it is settled. */
export const CONFIDENCE = 0.95;
/** A difference of chi-square D between two models scatters by 2 sqrt(D) from measurement to measurement. */
const SCATTER = 2;

/**
 * The cheapest measurement that settles a question with 95 % confidence: the fewest counts (least time and damage), and of
 * those beam energies that do with so many the one that sets the explanations farthest apart. Each is judged under both
 * explanations, and the poorer counts.
 */
export function planFor(question: Question, conditions: PlanConditions): Plan {
  let best: Proposal | null = null;
  for (const counts of COUNTS) {
    for (const beamKev of BEAMS_KEV) {
      const proposal = judged(question, conditions, beamKev, counts);
      if (!best || proposal.expectedChiSquare > best.expectedChiSquare) best = proposal;
    }
    if (best && best.confidence >= CONFIDENCE) return { question, proposal: best, best: null };
  }
  return { question, proposal: null, best };
}

/** What a proposed measurement would give, expected counts per channel, if the element is there and if it is not. */
export interface Remeasured {
  readonly ifThere: Float64Array;
  readonly ifNot: Float64Array;
}

/** Null where no line that tells the two apart would be recorded. */
export function remeasured(
  { withIt, without }: Question,
  { beamKev, counts }: Pick<Proposal, 'beamKev' | 'counts'>,
  conditions: PlanConditions,
): Remeasured | null {
  const measurement = { ...conditions, beamEv: beamKev * 1000, counts };
  const [ifThere, ifNot] = [compare(withIt, without, measurement), compare(without, withIt, measurement)];
  return ifThere && ifNot && { ifThere: ifThere.counts, ifNot: ifNot.counts };
}

function judged(question: Question, conditions: PlanConditions, beamKev: number, counts: number): Proposal {
  const measurement = { ...conditions, beamEv: beamKev * 1000, counts };
  const ifThere = separation(question.withIt, question.without, measurement);
  const ifNot = separation(question.without, question.withIt, measurement);
  // Where the wrong explanation holds all elements of the true one, only the true one can be told: its extra amount comes out 0.
  const nested = question.instead.length === 0;
  const expectedChiSquare = nested ? ifThere.chiSquare : Math.min(ifThere.chiSquare, ifNot.chiSquare);
  return {
    beamKev,
    counts,
    expectedChiSquare,
    confidence: confidenceOf(expectedChiSquare),
    lines: ifThere.lines,
  };
}

/** Probability that a difference expected to be D exceeds what settles: a normal distribution of mean D and deviation 2 sqrt(D). */
function confidenceOf(expected: number): number {
  if (!(expected > 0)) return 0;
  const deviations = (expected - SETTLED) / (SCATTER * Math.sqrt(expected));
  return 0.5 * erfc(-deviations / Math.SQRT2);
}

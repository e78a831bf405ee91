import type { Explanation } from './explain.ts';
import type { FindingReason, Rival } from './finding.ts';
import { misplacedLine } from './line-place.ts';
import { isPlain, standingPeak } from './standing-peak.ts';
import { LEAST_SIGMAS, type Threshold } from './thresholds.ts';

/** Where the model misfits locally by this factor (of sigma), only a plain peak is believed. */
const POOR_LOCALLY = 2;

/** What a member of the explanation shows against its threshold. */
export interface Shown {
  readonly z: number;
  /** Chi-square over what an element must show against nothing; negative: it falls short. */
  readonly short: number;
  readonly margin: number;
  readonly threshold: Threshold;
  /** Rise of chi-square when it is left out. */
  readonly rise: number;
  readonly rivals: readonly Rival[];
  /** Its counts are so few that they are likely the detector's own. */
  readonly detectorBrings: boolean;
  /** The holder or the chamber may have brought all of it. */
  readonly holderBrings: boolean;
}

/**
 * Neon: what lies before it a thick window hardly lets through, so that it must show far more, chi-square; fluorine and nitrogen, where soft L
 * lines of metals lie, more than oxygen, which nearly all specimens hold.
 */
const FIRST_THROUGH = 10;
const BEHIND_THICK_WINDOW = { oxygen: 200, others: 1000 } as const;
const OXYGEN = 8;

const asked = (z: number): number => (z === OXYGEN ? BEHIND_THICK_WINDOW.oxygen : BEHIND_THICK_WINDOW.others);

/** Why a member of the explanation is not required by the counts; null where it is. */
export function doubtOf(explanation: Explanation, shown: Shown): FindingReason | null {
  const { frame, fit, fitted, parts, axisStanding, excitation, thickWindow } = explanation;
  const { z, short, margin, threshold, rise, rivals } = shown;
  const { amount, sigma, inflation } = fitted.get(z)!;
  const rival = rivals[0];
  if (short < 0) return { kind: 'short', rise };
  if (margin < threshold.margin)
    return rival ? { kind: 'rival-fits', rival } : { kind: 'rare', asked: threshold.margin };
  if (amount < LEAST_SIGMAS * sigma) return { kind: 'faint', sigmas: amount / sigma };
  if (thickWindow && z < FIRST_THROUGH && rise < asked(z)) return { kind: 'behind-window' };
  if (shown.detectorBrings) return { kind: 'detector-own' };
  if (shown.holderBrings) return { kind: 'holder' };
  const peak = standingPeak(frame, fit, parts, z);
  if (!peak) return { kind: 'no-peak' };
  const beside = isPlain(peak) ? null : misplacedLine(fit, z);
  if (beside) return { kind: 'misplaced', ...beside };
  if (explanation.unfinished) return { kind: 'unfinished' };
  if (axisStanding === 'doubtful') return { kind: 'axis-doubtful' };
  if (excitation === 'photons' && !isPlain(peak)) return { kind: 'excitation-doubtful' };
  return inflation > POOR_LOCALLY && !isPlain(peak) ? { kind: 'poor-fit-here' } : null;
}

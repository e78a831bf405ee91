import type { Proposal, Remeasured } from '../plan/plan.ts';
import type { Question } from '../plan/question.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';

/** A proposed measurement as it would look: expected counts per channel on the axis of the one it follows. */
export interface PlannedSpectrum extends Remeasured {
  readonly question: Question;
  readonly proposal: Proposal;
  readonly axis: EnergyAxis;
}

import type { GrainReach } from '../emission/body/range.ts';
import type { PhaseQuestion } from '../evidence/phase-plan.ts';
import type { Plan } from '../plan/plan.ts';
import type { Stated } from './stated.ts';

export interface PlannedQuestion extends Plan {
  /** Whether the beam of the proposal would stay in the grain; null where no grain is given or nothing is proposed. */
  readonly reach: GrainReach | null;
}

/** The next measurement for each open question of a spectrum. */
export interface MeasurementPlan {
  readonly source: string;
  readonly beamKev: Stated;
  readonly present: readonly string[];
  readonly questions: readonly PlannedQuestion[];
  /** Materials that elements leave possible, and what tells them apart. */
  readonly phases: readonly PhaseQuestion[];
  readonly warnings: readonly string[];
}

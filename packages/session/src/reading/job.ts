import type { Surveyed } from '../instrument/surveyed.ts';
import { type Estimated, type EstimateJob, estimateOne } from './estimate-one.ts';
import type { NotKept } from './not-kept.ts';
import { type ReadJob, readOne, type ReadOutcome } from './read-one.ts';
import { type ReferenceJob, referenceOne, type ReferenceRead } from './reference-one.ts';
import { type SurveyJob, surveyOne } from './survey-one.ts';

/** What a worker can be asked to do. */
export type Job = SurveyJob | EstimateJob | ReferenceJob | ReadJob;

/** What comes of a job of one kind. */
export type Done<J extends Job> = J extends SurveyJob
  ? Surveyed | null
  : J extends EstimateJob
    ? Estimated | NotKept
    : J extends ReferenceJob
      ? ReferenceRead | NotKept
      : ReadOutcome | NotKept;

export function doJob(job: Job): Promise<Surveyed | null | Estimated | ReferenceRead | ReadOutcome | NotKept> {
  switch (job.kind) {
    case 'survey':
      return surveyOne(job);
    case 'estimate':
      return estimateOne(job);
    case 'reference':
      return referenceOne(job);
    case 'read':
      return readOne(job);
  }
}

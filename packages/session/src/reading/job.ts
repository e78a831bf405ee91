import { estimateOne, type Estimated, type EstimateTask } from '../instrument/estimate-one.ts';
import { type Outcome, readOne, type Task } from './read-one.ts';
import { type Surveyed, surveyOne, type SurveyTask } from '../instrument/survey.ts';

/** What a worker can be asked to do. */
export type Job = SurveyTask | EstimateTask | Task;

/** What comes of a job of one kind. */
export type Done<J extends Job> = J extends SurveyTask ? Surveyed | null : J extends EstimateTask ? Estimated : Outcome;

export function doJob(job: Job): Promise<Surveyed | null | Estimated | Outcome> {
  switch (job.kind) {
    case 'survey':
      return surveyOne(job);
    case 'estimate':
      return estimateOne(job);
    case 'read':
      return readOne(job);
  }
}

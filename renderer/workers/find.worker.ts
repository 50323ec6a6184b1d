import { type Answer, type Progress, answerSteps } from '../../core/find';
import type { Job } from '../../core/job';
import type { StrutListEntry } from '../../core/strut';
import { answerBy } from './answer';

export interface FindQuestion {
  readonly job: Job;
  /** null: the job's own, or the generic one. */
  readonly list: readonly StrutListEntry[] | null;
  /** Share of the usual work. */
  readonly effort: number;
}

answerBy(({ job, list, effort }: FindQuestion): Generator<Progress, Answer> =>
  answerSteps(job, { effort, ...(list ? { list } : {}) }),
);

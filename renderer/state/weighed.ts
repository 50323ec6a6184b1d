import type { ResolvedJob } from '../../core/job';
import { type LiftedFound, type PullsFound, liftedFound, pullsFound } from '../../core/weigh';

/** What a job's weighings give; null for a way that nothing was read in. */
export interface Weighed {
  readonly pulls: PullsFound | null;
  readonly lifted: LiftedFound | null;
}

let last: { readonly job: ResolvedJob; readonly weighed: Weighed } | null = null;

/** The weighings of a job, worked out once and shared by the panel and the views. */
export function weighedOf(job: ResolvedJob): Weighed {
  if (last?.job !== job)
    last = {
      job,
      weighed: {
        pulls: job.weighings?.pulls?.readings?.length ? pullsFound(job) : null,
        lifted: job.weighings?.lifted?.readings?.length ? liftedFound(job) : null,
      },
    };
  return last.weighed;
}

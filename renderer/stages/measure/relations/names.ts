import { fail } from '../../../../core/error';
import type { ResolvedJob } from '../../../../core/job';

/** What relationName needs of a job. */
export const namesOf = (
  job: ResolvedJob,
): { job: ResolvedJob; names: readonly string[]; indexOf: (id: string) => number } => {
  const names = job.points.map((p) => p.name ?? p.id);
  return {
    job,
    names,
    indexOf: (id) => {
      const i = job.points.findIndex((p) => p.id === id);
      return i >= 0 ? i : fail(`there is no point "${id}"`, ['points'], 'It may have been removed meanwhile.');
    },
  };
};

// How exactly a fitted strut has to be where it is, on the command line.
import { howExactSteps, studyFile, studyLines } from '../../core/find';
import { resolveJob } from '../../core/job';
import type { Io } from './io';
import { jobNamed } from './job';
import type { StudyCommand } from './options';
import { plain, wrap } from './table';

/** Up to this share of lids may fail before the exit code says so. */
const ALLOWED = 0.05;

/** Prints the study and gives the exit code: 1 where more than 5 % of the lids fail. */
export async function study({ job: jobName, variants, json }: StudyCommand, io: Io): Promise<number> {
  const raw = await jobNamed(jobName, io);
  const steps = howExactSteps(raw, variants === null ? {} : { variants });
  let step = steps.next();
  while (!step.done) step = steps.next();
  const found = step.value;
  if (json) io.out(`${JSON.stringify(studyFile(found))}\n`);
  else
    for (const line of studyLines(resolveJob(raw), found))
      io.out(
        wrap(plain(line), io.columns)
          .map((text) => `${text}\n`)
          .join(''),
      );
  return found.study.any.share > ALLOWED ? 1 : 0;
}

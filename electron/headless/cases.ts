// The usual load cases added to a job.
import path from 'node:path';
import { addUsualCases, assertComputable, readJob, resolveJob, usualChoice, writeJob } from '../../core/job';
import { writeWhole } from '../files';
import type { Io } from './io';
import { jobNamed } from './job';
import type { CasesCommand } from './options';
import { plain } from './table';

/** Writes the job with the load cases that it had none like, and says which. Throws a LidwrightError for a bad job. */
export async function cases({ job: jobName, out, options }: CasesCommand, io: Io): Promise<number> {
  const job = await jobNamed(jobName, io);
  const choice = usualChoice(job, options);
  const made = addUsualCases(job, { options });
  assertComputable(resolveJob(made));
  const text = writeJob(made);
  readJob(text); // what is written can be opened
  const how = await writeWhole(path.resolve(io.cwd, out), text);
  io.out(`${how === 'new' ? 'made' : 'replaced'} ${plain(out)}\n`);
  for (const { name, there } of choice) io.out(`${there ? 'there already' : 'added'}: ${plain(name)}\n`);
  return 0;
}

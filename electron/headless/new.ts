// A job from a lid's sizes.
import path from 'node:path';
import { readJob, resolveJob, writeJob } from '../../core/job';
import { needOf } from '../../core/need';
import { METRIC } from '../../core/quantity';
import { jobOfSizes, readSizes } from '../../core/start';
import { workings } from '../../core/workings';
import { writeWhole } from '../files';
import type { Io } from './io';
import type { NewCommand } from './options';
import { countWords, plain } from './table';

/** Writes the job that the sizes make, and says how it stands. Throws a LidwrightError with every size that can't be. */
export async function fromSizes({ sizes, out }: NewCommand, io: Io): Promise<number> {
  const job = jobOfSizes(readSizes(sizes));
  const text = writeJob(job);
  readJob(text); // what is written can be opened
  const how = await writeWhole(path.resolve(io.cwd, out), text);
  io.out(`${how === 'new' ? 'made' : 'replaced'} ${plain(out)}\n`);
  const { findings } = workings(resolveJob(job));
  io.out(`${plain(job.title)}: ${countWords(findings)}\n`);
  io.out(`${plain(needOf(resolveJob(job), 'home', METRIC).text)}\n`);
  io.out(
    'What no size was given for is assumed and marked so in the job; the strut and its place are a first choice: run "lidwright check" and look.\n',
  );
  return findings.some((finding) => finding.state === 'fails') ? 1 : 0;
}

import { resolveJob } from '../../core/job';
import { needOf } from '../../core/need';
import { METRIC } from '../../core/quantity';
import type { Io } from './io';
import { readNamed } from './job';
import type { NeedCommand } from './options';
import { plain } from './table';

/** Says whether the lid needs help at all, and what would serve. Throws a LidwrightError for a bad job. */
export async function need({ job: name, mover, json }: NeedCommand, io: Io): Promise<number> {
  const { job } = await readNamed(name, io);
  const found = needOf(resolveJob(job), mover, METRIC);
  if (json) {
    io.out(`${JSON.stringify(found)}\n`);
    return 0;
  }
  io.out(`${plain(job.title)}\n${plain(found.text)}\n\n`);
  for (const { what, serves, why } of found.serves) io.out(`  ${serves ? 'yes' : 'no '}  ${what}: ${plain(why)}\n`);
  io.out(`\nMeasured by ${found.source}.\n`);
  return 0;
}

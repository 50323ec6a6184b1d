import { checkJob } from '../../core/result';
import type { Io } from './io';
import { readNamed } from './job';
import { findingsTable, plain } from './table';

/** Prints the findings (or the whole result as JSON) and gives the exit code. Throws a LidwrightError for a bad job. */
export async function check(jobName: string, json: boolean, io: Io): Promise<number> {
  const { job, filled } = await readNamed(jobName, io);
  const result = checkJob(job);
  if (json) io.out(`${JSON.stringify(result)}\n`);
  else {
    io.out(
      findingsTable(
        result.title,
        result.findings.map((finding) => (finding.everyCase ? { ...finding, case: null } : finding)),
        io.columns,
      ),
    );
    for (const text of filled) io.out(`\n${plain(text)}\n`);
  }
  return result.findings.some((finding) => finding.state === 'fails') ? 1 : 0;
}

import { checkJob } from '../../core/result';
import type { Io } from './io';
import { jobNamed } from './job';
import { findingsTable } from './table';

/** Prints the findings (or the whole result as JSON) and gives the exit code. Throws a LidwrightError for a bad job. */
export async function check(jobName: string, json: boolean, io: Io): Promise<number> {
  const result = checkJob(await jobNamed(jobName, io));
  if (json) io.out(`${JSON.stringify(result)}\n`);
  else
    io.out(
      findingsTable(
        result.title,
        result.findings.map((finding) => (finding.everyCase ? { ...finding, case: null } : finding)),
        io.columns,
      ),
    );
  return result.findings.some((finding) => finding.state === 'fails') ? 1 : 0;
}

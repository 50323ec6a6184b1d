import { type Job, type JobProofReading, PROOF_UNIT, type ResolvedJob, resolveJob } from '../../../core/job';
import {
  type Line,
  VALUE_KEY,
  addProofReadings,
  readingOf,
  removeProofReading,
  setProofReading,
} from '../../../core/prove';
import { edit, presentJob } from '../../state/store';

/** One step, refused with its reason where the job could not be worked out with it. */
function step(label: string, run: (job: Job) => Job): boolean {
  const next = run(presentJob());
  resolveJob(next);
  return edit(label, () => next);
}

/**
 * Puts a value into a line, one undo step; undefined takes the reading away. Throws a LidwrightError for a value that can't
 * be.
 */
export function enterValue(job: ResolvedJob, line: Line, value: JobProofReading['valueMm'] | undefined): boolean {
  const { reading, probe, what } = line;
  if (value === undefined)
    return reading === null || step(`Remove ${what}`, (j) => removeProofReading(j, { id: reading.id }));
  if (reading === null)
    return step(`Enter ${what}`, (j) => addProofReadings(j, { readings: [readingOf(job, probe, value)] }));
  return step(`Enter ${what}`, (j) =>
    setProofReading(j, { id: reading.id, patch: { [VALUE_KEY[PROOF_UNIT[probe.what]]]: value } }),
  );
}

/** What stands in the file for a line's value: a number, or what holds it. */
export function rawValue(line: Line): unknown {
  const raw = presentJob().proof?.readings?.find((r) => r.id === line.reading?.id);
  return raw?.[VALUE_KEY[PROOF_UNIT[line.probe.what]]];
}

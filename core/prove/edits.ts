import { fail } from '../error';
import { type Job, type JobProofReading, setValue } from '../job';

const readingsOf = (job: Job): readonly JobProofReading[] => job.proof?.readings ?? [];

const withReadings = (job: Job, readings: readonly JobProofReading[]): Job =>
  setValue(job, { path: ['proof', 'readings'], value: readings });

function indexIn(job: Job, id: string): number {
  const i = readingsOf(job).findIndex((r) => r.id === id);
  return i >= 0
    ? i
    : fail(`there is no measurement "${id}"`, ['proof', 'readings'], 'It may have been removed meanwhile.');
}

/** Adds measurements on the fitted lid, each with an id of its own; one step. */
export function addProofReadings(job: Job, args: { readings: readonly Omit<JobProofReading, 'id'>[] }): Job {
  if (args.readings.length === 0) return job;
  const all = [...readingsOf(job)];
  let n = 1;
  for (const reading of args.readings) {
    while (all.some((r) => r.id === `m${n}`)) n++;
    all.push({ id: `m${n}`, ...reading });
  }
  return withReadings(job, all);
}

/** Changes keys of a measurement; undefined takes a key away. Throws a LidwrightError when it isn't there. */
export function setProofReading(job: Job, args: { id: string; patch: Partial<Omit<JobProofReading, 'id'>> }): Job {
  const i = indexIn(job, args.id);
  return Object.entries(args.patch).reduce<Job>(
    (next, [key, value]) => setValue(next, { path: ['proof', 'readings', i, key], value }),
    job,
  );
}

/** Removes a measurement. Throws a LidwrightError when it isn't there. */
export function removeProofReading(job: Job, args: { id: string }): Job {
  const i = indexIn(job, args.id);
  return withReadings(
    job,
    readingsOf(job).filter((_, k) => k !== i),
  );
}

// Tables from outside: read in a worker, with the share that is done and a way to call it off.
import { LidwrightError, wordsOf } from '../../core/error';
import type { ColumnMatch } from '../../core/strut';
import { MOST_READINGS, type ParsedReadings, addObservations } from '../../core/survey';
import { type AskOptions, type ListAnswer, ask, isAborted, tabling } from '../workers';
import { edit, notify, presentJob } from './store';

export type { ListAnswer };

/** Runs; null where it was called off, and where it went wrong, which is said. */
async function attempt<T>(name: string, run: () => Promise<T>): Promise<T | null> {
  try {
    return await run();
  } catch (error) {
    if (isAborted(error)) return null;
    notify(error instanceof LidwrightError ? wordsOf(error) : `${name} can’t be read: ${String(error)}.`, 'bad');
    return null;
  }
}

/** A strut list by a column match, or as its columns seem to be; null where it was called off or, as is said, can't be read. */
export const readList = (file: File, match: ColumnMatch | null, options: AskOptions): Promise<ListAnswer | null> =>
  attempt(file.name, async () => {
    const question = { of: 'list', name: file.name, file, match } as const;
    return (await ask(tabling, question, { ...options, latestWins: 'list' })) as ListAnswer;
  });

/** Takes the good lines of a table in, in one step; gives what came of it, or null where nothing did and it was said. */
export const takeTable = (name: string, file: Blob, options: AskOptions): Promise<ParsedReadings | null> =>
  attempt(name, async () => {
    for (;;) {
      const job = presentJob();
      const question = { of: 'readings', name, file, job } as const;
      const parsed = (await ask(tabling, question, { ...options, latestWins: 'readings' })) as ParsedReadings;
      const now = presentJob();
      // read for points that have changed meanwhile: once more
      if (now.points !== job.points || now.givens !== job.givens || now.observations !== job.observations) continue;
      const count = (now.observations?.length ?? 0) + parsed.readings.length;
      if (count > MOST_READINGS) {
        notify(`a job holds ${MOST_READINGS} readings at most; this would make ${count}.`, 'bad');
        return null;
      }
      const n = parsed.readings.length;
      if (n > 0) {
        edit(`Take ${n} readings in`, (to) => addObservations(to, { observations: parsed.readings }));
        notify(`${n} ${n === 1 ? 'reading' : 'readings'} taken in.`);
      }
      return parsed;
    }
  });

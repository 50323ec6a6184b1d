// Tables from outside: read in a worker, with the share that is done and a way to call it off.
import { LidwrightError, wordsOf } from '../../core/error';
import type { ColumnMatch } from '../../core/strut';
import { MOST_READINGS, type ParsedReadings, addObservations } from '../../core/survey';
import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import { type AskOptions, type ListAnswer, ask, isAborted, tabling } from '../workers';
import { bench, edit, notify, presentJob } from './store';

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

/** Tables from outside that are being taken in. */
interface TableState {
  /** A strut list whose columns are to be matched, and the strut that asks for it. */
  readonly list: { readonly file: File; readonly strutId: string } | null;
  /** What came of the last table of readings. */
  readonly came: ParsedReadings | null;
  /** Of a table of readings under way: the share that is read; null: none is. */
  readonly share: number | null;
}

const store = createStore<TableState>(() => ({ list: null, came: null, share: null }));
export const useTables = <T>(select: (tables: TableState) => T): T => useStore(store, select);

/** Begins to take a strut list in; null leaves it. */
export const openList = (list: TableState['list']): void => store.setState({ list });
export const forgetReadings = (): void => store.setState({ came: null });

let reading = new AbortController();
export const cancelReadings = (): void => reading.abort();

/** Takes the good lines of a table of readings in, in one step; false where nothing came of it, which was said. */
export async function takeReadings(name: string, file: Blob): Promise<boolean> {
  reading.abort();
  const { signal } = (reading = new AbortController());
  store.setState({ share: 0 });
  const came = await readingsOf(name, file, { signal, progress: (share) => store.setState({ share }) });
  if (reading.signal === signal) store.setState({ share: null });
  if (came) store.setState({ came });
  return came !== null;
}

export const isTable = (file: File): boolean => /\.(csv|tsv|txt)$/i.test(file.name);

/** A table that was dropped: readings where one measures, a strut list elsewhere; each goes the way of one that is opened. */
export function takeDroppedTable(file: File): void {
  const { stage, history, resolved, selection } = bench.getState();
  if (history.present.points.length === 0)
    notify(`${file.name} is a table: begin a job first, then drop it there.`, 'bad');
  else if (stage === 'measure') void takeReadings(file.name, file);
  else if (resolved.struts.length === 0)
    notify(`${file.name} is a table: add a strut first, then drop it again.`, 'bad');
  else {
    bench.setState({ stage: 'strut' });
    const strut = resolved.struts.find((s) => s.id === selection?.id) ?? resolved.struts[0]!;
    openList({ file, strutId: strut.id });
  }
}

/** The same, and what came of it. */
const readingsOf = (name: string, file: Blob, options: AskOptions): Promise<ParsedReadings | null> =>
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

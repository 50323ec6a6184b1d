// How exact the fitted strut has to be: the study under way or done, and the job that it is of.
import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import { LidwrightError, wordsOf } from '../../core/error';
import type { HowExact } from '../../core/find';
import type { Job } from '../../core/job';
import { ask, isAborted, studying } from '../workers';
import { notify, presentJob } from './store';

export interface StudyState {
  /** The answer so far: it gets sharper until the study is done. */
  readonly found: HowExact | null;
  readonly job: Job | null;
  readonly busy: boolean;
}

export const studyStore = createStore<StudyState>(() => ({ found: null, job: null, busy: false }));
export const useStudy = (): StudyState => useStore(studyStore);

let stop = new AbortController();

export function stopStudy(): void {
  stop.abort();
  studyStore.setState({ busy: false });
}

/** Builds the present job many times over with everyday errors, off the main thread. */
export async function startStudy(): Promise<void> {
  stop.abort();
  const { signal } = (stop = new AbortController());
  const job = presentJob();
  studyStore.setState({ found: null, job, busy: true });
  try {
    const found = await ask(studying, job, { signal, progress: (so) => studyStore.setState({ found: so }) });
    studyStore.setState({ found, busy: false });
  } catch (error) {
    if (isAborted(error)) return;
    studyStore.setState({ busy: false });
    if (!(error instanceof LidwrightError)) throw error;
    notify(wordsOf(error), 'bad');
  }
}

import { createStore } from 'zustand/vanilla';
import { useStore } from 'zustand';
import type { Ranking } from '../../core/choose';
import { LidwrightError, wordsOf } from '../../core/error';
import type { ResolvedJob } from '../../core/job';
import type { StrutListEntry } from '../../core/strut';
import { ask, choosing, isAborted } from '../workers';
import { bench, notify } from './store';

/** A search through a list, under way or done. */
export interface ChooserState {
  readonly share: number | null;
  readonly ranking: Ranking | null;
  readonly list: readonly StrutListEntry[];
  /** The job that the ranking is for; another one makes it stale. */
  readonly job: ResolvedJob | null;
  readonly tookMs: number;
}

const IDLE: ChooserState = { share: null, ranking: null, list: [], job: null, tookMs: 0 };
const chooser = createStore<ChooserState>(() => IDLE);
export const useChooser = (): ChooserState => useStore(chooser);

const MOST_RANKED = 200;
let searching = new AbortController();

/** Ends the search under way and forgets what was found. */
export function stopChoosing(): void {
  searching.abort();
  chooser.setState(IDLE);
}

/** Ranks a list for a strut of the present job off the main thread; a new call cancels the one before. */
export async function choose(list: readonly StrutListEntry[], strutId: string): Promise<void> {
  stopChoosing();
  const { signal } = (searching = new AbortController());
  const { resolved: job, units } = bench.getState();
  chooser.setState({ ...IDLE, list, job, share: 0 });
  try {
    const progress = (share: number): void => chooser.setState({ share });
    const answer = await ask(choosing, { job, list, strutId, units, mostRanked: MOST_RANKED }, { signal, progress });
    chooser.setState({ ...answer, share: null });
  } catch (error) {
    if (isAborted(error)) return;
    chooser.setState(IDLE);
    if (!(error instanceof LidwrightError)) throw error;
    notify(wordsOf(error), 'bad');
  }
}

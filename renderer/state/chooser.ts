import { createStore } from 'zustand/vanilla';
import { useStore } from 'zustand';
import { type Candidate, type ForcePlane, type Ranking, type Refused, fitEntry } from '../../core/choose';
import { LidwrightError, wordsOf } from '../../core/error';
import type { ResolvedJob } from '../../core/job';
import { type StrutListEntry, forcesOf } from '../../core/strut';
import { ask, choosing, isAborted } from '../workers';
import { bench, edit, notify } from './store';

/** A search through a list, under way or done. */
export interface ChooserState {
  readonly share: number | null;
  readonly ranking: Ranking | null;
  readonly others: readonly Refused[];
  readonly planes: readonly ForcePlane[];
  readonly list: readonly StrutListEntry[];
  /** The job that the ranking is for; another one makes it stale. */
  readonly job: ResolvedJob | null;
  readonly tookMs: number;
  /** The one that is looked at; null: the first of the ranking. */
  readonly picked: Candidate | null;
  /** The stroke whose plane is shown; null: that of what is looked at. */
  readonly strokeMm: number | null;
}

const IDLE: ChooserState = {
  ...{ share: null, ranking: null, others: [], planes: [], list: [], job: null, tookMs: 0 },
  ...{ picked: null, strokeMm: null },
};
const chooser = createStore<ChooserState>(() => IDLE);
export const useChooser = (): ChooserState => useStore(chooser);

/** What is looked for: for which strut, in which list; empty: the first. It outlives a search. */
const wanted = createStore<{ readonly strutId: string; readonly listName: string }>(() => ({
  strutId: '',
  listName: '',
}));
export const useWanted = (): { readonly strutId: string; readonly listName: string } => useStore(wanted);

export function chooseFor(strutId: string): void {
  stopChoosing();
  wanted.setState({ strutId });
}
export function chooseList(listName: string): void {
  stopChoosing();
  wanted.setState({ listName });
}

const MOST_RANKED = 200;
/** A list with more struts and forces than this is searched when it is asked for, not after every edit. */
const QUICK = 6000;
let searching = new AbortController();

/** Ends the search under way and forgets what was found. */
export function stopChoosing(): void {
  searching.abort();
  chooser.setState(IDLE);
}

export const pick = (picked: Candidate): void => chooser.setState({ picked, strokeMm: null });
export const showStroke = (strokeMm: number): void => chooser.setState({ strokeMm });

/** Puts a strut of the list on in place of the one that is fitted. */
export function fitFound(entry: StrutListEntry, forceN: number, strut: string): void {
  edit(`Use ${entry.name}`, (job) => fitEntry(job, { strut, entry, forceN }));
}

/** Whether a list is short enough to be searched after every edit. */
export const isQuick = (list: readonly StrutListEntry[]): boolean =>
  list.length <= QUICK && list.reduce((sum, e) => sum + forcesOf(e).length, 0) <= QUICK;

/** Ranks a list for a strut of the present job off the main thread; a new call cancels the one before. What was found stays till then. */
export async function choose(list: readonly StrutListEntry[], strutId: string): Promise<void> {
  searching.abort();
  const { signal } = (searching = new AbortController());
  const { resolved: job, units } = bench.getState();
  const { list: before, ranking } = chooser.getState();
  if (before === list && ranking?.strutId === strutId) chooser.setState({ share: 0 });
  else chooser.setState({ ...IDLE, list, share: 0 });
  try {
    const progress = (share: number): void => chooser.setState({ share });
    const answer = await ask(choosing, { job, list, strutId, units, mostRanked: MOST_RANKED }, { signal, progress });
    chooser.setState({ ...answer, job, share: null });
  } catch (error) {
    if (isAborted(error)) return;
    chooser.setState(IDLE);
    if (!(error instanceof LidwrightError)) throw error;
    notify(wordsOf(error), 'bad');
  }
}

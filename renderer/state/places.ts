// Places for the strut: the search, what it found, which is looked at; and what a wish would come to.
import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import { type Answer, type Place, applyPlace, decidedBy, strutWords } from '../../core/find';
import { LidwrightError, wordsOf } from '../../core/error';
import { type Job, setValue } from '../../core/job';
import type { StrutListEntry } from '../../core/strut';
import { workingsOf } from '../../core/workings';
import { ask, finding, isAborted, wishing } from '../workers';
import { keepVariant } from './session';
import { bench, edit, notify, presentJob } from './store';

export interface PlacesState {
  /** Share done of the search under way; null: none is. */
  readonly share: number | null;
  readonly places: readonly Place[];
  /** The whole answer, once the search is done. */
  readonly answer: Answer | null;
  /** The job that was searched for; another one makes the answer stale. */
  readonly job: Job | null;
  /** The job after one of the places was fitted: it makes nothing stale. */
  readonly fittedJob: Job | null;
  readonly tookS: number;
  /** Index of the place that is looked at. */
  readonly chosen: number | null;
}

const IDLE: PlacesState = { share: null, places: [], answer: null, job: null, fittedJob: null, tookS: 0, chosen: null };
export const placesStore = createStore<PlacesState>(() => IDLE);
export const usePlaces = <T>(select: (state: PlacesState) => T): T => useStore(placesStore, select);

let searching = new AbortController();

/** Ends the search under way; the places found so far stay. */
export function stopSearch(): void {
  searching.abort();
  placesStore.setState({ share: null });
}

/** Lets go of what was found. */
export function forgetPlaces(): void {
  searching.abort();
  placesStore.setState(IDLE);
}

/** Looks for places in the zones of the present job with a list's struts; null: the job's own list, or the generic one. */
export async function findPlaces(list: readonly StrutListEntry[] | null): Promise<void> {
  searching.abort();
  const { signal } = (searching = new AbortController());
  const job = presentJob();
  const began = performance.now();
  placesStore.setState({ ...IDLE, share: 0, job });
  try {
    const answer = await ask(
      finding,
      { job, list, effort: 1 },
      {
        signal,
        progress: ({ share, places }) => placesStore.setState(places ? { share, places } : { share }),
      },
    );
    const tookS = (performance.now() - began) / 1000;
    const chosen = answer.places.length > 0 ? (placesStore.getState().chosen ?? 0) : null;
    placesStore.setState({ answer, places: answer.places, share: null, tookS, chosen });
  } catch (error) {
    if (isAborted(error)) return;
    placesStore.setState(IDLE);
    if (!(error instanceof LidwrightError)) throw error;
    notify(wordsOf(error), 'bad');
  }
}

export const choosePlace = (index: number | null): void => placesStore.setState({ chosen: index });

/** The strut that places are for: the job's first. */
const FIRST = 0;

/** Fits a place: points, strut, studs and opening, one undo step. */
export function fitPlace(place: Place): void {
  if (
    edit(`Use a place: ${strutWords(place, bench.getState().units)}`, (job) =>
      applyPlace(job, { strutIndex: FIRST, place }),
    )
  )
    // prettier-ignore
    placesStore.setState({ fittedJob: presentJob() });
}

/** Keeps the job with a place fitted beside the present one, to compare. */
export function keepPlace(place: Place, name: string): void {
  const { units } = bench.getState();
  const job = applyPlace(presentJob(), { strutIndex: FIRST, place });
  keepVariant({ name, job, outcome: workingsOf(job, units) });
  notify(`Kept as "${name}": compare it in the stage Strut.`);
}

/** A wish on a slider: how far the lid opens, or the most that a hand may have to do. */
export type Wish = 'openDeg' | 'handN';

export interface WishState {
  readonly wish: Wish;
  readonly value: number;
  readonly words: string;
}

export const wishStore = createStore<{ readonly told: WishState | null; readonly busy: boolean }>(() => ({
  told: null,
  busy: false,
}));

/** The job with a wish in it. */
export const wished = (job: Job, wish: Wish, value: number): Job =>
  wish === 'openDeg'
    ? setValue({ ...job, ...(job.find ? { find: { ...job.find, openDeg: undefined } } : {}) } as Job, {
        path: ['travel', 'openDeg'],
        value,
      })
    : ['handOpenN', 'handCloseN'].reduce((now, key) => setValue(now, { path: ['limits', key], value }), job);

/** Share of a search's work that a wish gets: it has to keep up with a slider. */
const WISH_EFFORT = 0.15;

/** Says what the best place would be if a wish were granted; only the newest wish is answered. */
export async function askWish(wish: Wish, value: number, list: readonly StrutListEntry[] | null): Promise<void> {
  wishStore.setState({ busy: true });
  const job = wished(presentJob(), wish, value);
  try {
    const found = await ask(wishing, { job, list, effort: WISH_EFFORT }, { latestWins: 'wish' });
    const { units, resolved } = bench.getState();
    const [best] = found.places;
    const words = best
      ? `${found.places.length === 1 ? 'One place' : `${found.places.length} places`}; the best has ${strutWords(best, units)}: ${decidedBy(resolved, best)}.`
      : 'No place was found for that.';
    wishStore.setState({ told: { wish, value, words }, busy: false });
  } catch (error) {
    if (isAborted(error)) return;
    wishStore.setState({ told: null, busy: false });
    if (!(error instanceof LidwrightError)) throw error;
    notify(wordsOf(error), 'bad');
  }
}

import { useStore } from 'zustand';
import { type StoreApi, createStore } from 'zustand/vanilla';
import { pauseAfter, timeFrame } from './felt';
import { type BenchState, bench } from './store';
import { useMadeOf } from './use-bench';

/** The bench as it was lately: at once where no drag goes on, in a drag at most every `everyMs`, and rarer where that is felt. */
function lately(everyMs: number): StoreApi<BenchState> {
  const snapshot = createStore<BenchState>(() => bench.getState());
  let timer: ReturnType<typeof setTimeout> | undefined;
  let last = 0;
  let tookMs = 0;
  const take = (): void => {
    clearTimeout(timer);
    timer = undefined;
    const state = bench.getState();
    if (state.drag) timeFrame((ms) => (tookMs = flushMs + ms));
    last = performance.now();
    snapshot.setState(state, true);
    // React draws at once what hears of it
    const flushMs = performance.now() - last;
  };
  bench.subscribe((state) => {
    if (!state.drag) take();
    // never in the drag's own step: what it moves is to be seen first
    else if (Number.isFinite(everyMs))
      timer ??= setTimeout(take, Math.max(everyMs, pauseAfter(tookMs)) - (performance.now() - last));
  });
  return snapshot;
}

/** Least time between two renders of what only reads results, while a drag goes on, ms. */
const CALM_MS = 90;
const told = lately(CALM_MS);
const rest = lately(Infinity);

/** A part of the state for panels that only read results, so that React does not stand in a drag's path. */
export const useTold = <T>(select: (state: BenchState) => T): T => useStore(told, select);

/** Something small that is made of what is told: another one only when it says something else. */
export const useToldMade = <T>(make: (state: BenchState) => T): T => useMadeOf(told, make);

/** A part of the state as it was before the drag that goes on, if one does: for what takes longer than a move has time for. */
export const useRest = <T>(select: (state: BenchState) => T): T => useStore(rest, select);

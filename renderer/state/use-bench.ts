import { useEffect, useRef, useState } from 'react';
import { useStore } from 'zustand';
import { type BenchState, bench } from './store';

/** A part of the bench's state, at once. */
export const useBench = <T>(select: (state: BenchState) => T): T => useStore(bench, select);

/** Whether two plain values (numbers, texts, arrays, objects of them) say the same. */
export function alike(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  const keys = Object.keys(a);
  return (
    keys.length === Object.keys(b).length &&
    keys.every((key) => key in b && alike(a[key as never], (b as Record<string, unknown>)[key]))
  );
}

/** Something small that is made of the bench's state: another one only when it says something else. */
export function useMade<T>(make: (state: BenchState) => T): T {
  const last = useRef<T | undefined>(undefined);
  return useStore(bench, (state) => {
    const next = make(state);
    return (last.current = alike(last.current, next) ? last.current! : next);
  });
}

/** Least time between two renders of a part that only reads results, while a drag goes on, ms. */
const CALM_MS = 90;

/**
 * A part of the state for panels that only read: at most every 90 ms while a drag is under way, so that React does not
 * stand in the drag's path; at once otherwise.
 */
export function useCalmBench<T>(select: (state: BenchState) => T): T {
  const [value, setValue] = useState(() => select(bench.getState()));
  const pick = useRef(select);
  useEffect(() => {
    pick.current = select;
  });
  useEffect(() => {
    let timer = 0;
    let last = 0;
    const take = (): void => {
      timer = 0;
      last = performance.now();
      setValue(() => pick.current(bench.getState()));
    };
    const hear = (state: BenchState): void => {
      if (timer !== 0) return;
      const wait = state.drag ? CALM_MS - (performance.now() - last) : 0;
      if (wait > 0) timer = window.setTimeout(take, wait);
      else take();
    };
    take();
    const off = bench.subscribe(hear);
    return () => {
      off();
      window.clearTimeout(timer);
    };
  }, []);
  return value;
}

/** A part of the state as it was before the drag that goes on, if one does: for what takes longer than a move has time for. */
export function useRestedBench<T>(select: (state: BenchState) => T): T {
  const [value, setValue] = useState(() => select(bench.getState()));
  const pick = useRef(select);
  useEffect(() => {
    pick.current = select;
  });
  useEffect(() => {
    const take = (state: BenchState): void => {
      if (!state.drag) setValue(() => pick.current(state));
    };
    take(bench.getState());
    return bench.subscribe(take);
  }, []);
  return value;
}

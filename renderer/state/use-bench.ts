import { useRef } from 'react';
import { useStore } from 'zustand';
import type { StoreApi } from 'zustand/vanilla';
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

/** Something small that is made of a store's state: another one only when it says something else. */
export function useMadeOf<S, T>(store: StoreApi<S>, make: (state: S) => T): T {
  const last = useRef<T | undefined>(undefined);
  return useStore(store, (state) => {
    const next = make(state);
    return (last.current = alike(last.current, next) ? last.current! : next);
  });
}

/** The same of the bench's state, at once. */
export const useMade = <T>(make: (state: BenchState) => T): T => useMadeOf(bench, make);

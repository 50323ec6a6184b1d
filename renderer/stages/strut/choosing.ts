import { useEffect } from 'react';
import type { StrutListEntry } from '../../../core/strut';
import { choose, isQuick, stopChoosing, useChooser, useWanted } from '../../state/chooser';
import { type StrutList, loadLists, useLists } from '../../state/strut-lists';
import { useRest } from '../../state/told';
import { useBench, useMade } from '../../state/use-bench';

/** An edit that the next one follows within this time is not searched for, ms. */
const AFTER_MS = 250;

/** Which strut is chosen for, and from which list. */
export function useChoice(): { readonly strutId: string | null; readonly list: StrutList } {
  const { strutId, listName } = useWanted();
  const lists = useLists();
  const ids = useMade((s) => s.resolved.struts.map((x) => x.id));
  return {
    strutId: ids.includes(strutId) ? strutId : (ids[0] ?? null),
    list: lists.find((l) => l.name === listName) ?? lists[0]!,
  };
}

/** Keeps the search up to date while the stage is shown; a long list waits until it is asked for. */
export function useSearch(strutId: string | null, list: readonly StrutListEntry[]): void {
  const job = useRest((s) => s.resolved);
  const known = useRest((s) => s.outcome !== null);
  const units = useBench((s) => s.units);
  useEffect(() => {
    void loadLists();
    return stopChoosing;
  }, []);
  useEffect(() => {
    if (strutId === null || !known || !isQuick(list)) return;
    const timer = setTimeout(() => void choose(list, strutId), AFTER_MS);
    return () => clearTimeout(timer);
  }, [strutId, list, job, known, units]);
}

/** The candidate that is looked at: the one picked, else the first. */
export function usePicked(): { readonly entry: number; readonly forceN: number } | null {
  const { picked, ranking } = useChooser();
  return picked ?? ranking?.ranked[0] ?? null;
}

import { type StrutListEntry, genericMetricList } from '../../core/strut';
import { notify } from './store';

/** A strut list in the user's library. */
export interface StrutList {
  readonly name: string;
  readonly entries: readonly StrutListEntry[];
  /** Ours, made by rule; it can't be removed. */
  readonly own: boolean;
}

const KEY = 'lidwright.strut-lists';
const GENERIC: StrutList = { name: 'Generic metric list (common practice)', entries: genericMetricList(), own: true };

/** Every list of the library, ours first; a torn entry of the store is left out and said. */
export function readLists(): StrutList[] {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? '[]') as unknown;
    if (!Array.isArray(kept)) throw new Error('not a list');
    const lists = kept.filter((l): l is StrutList => typeof l?.name === 'string' && Array.isArray(l.entries));
    return [GENERIC, ...lists.map((l) => ({ ...l, own: false }))];
  } catch {
    notify('The library of strut lists could not be read; only the generic one is here. Import yours again.', 'bad');
    return [GENERIC];
  }
}

/** Keeps a list in the library; one of the same name is replaced. */
export function keepList(name: string, entries: readonly StrutListEntry[]): void {
  const others = readLists().filter((l) => !l.own && l.name !== name);
  store([...others, { name, entries, own: false }]);
}

export const dropList = (name: string): void => store(readLists().filter((l) => !l.own && l.name !== name));

function store(lists: readonly StrutList[]): void {
  try {
    localStorage.setItem(KEY, JSON.stringify(lists));
  } catch {
    notify('There is no room left to keep this list; it can be used until the page is closed.', 'bad');
  }
}

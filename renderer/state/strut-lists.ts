import { createStore } from 'zustand/vanilla';
import { useStore } from 'zustand';
import { LidwrightError, wordsOf } from '../../core/error';
import { type StrutListEntry, genericMetricList } from '../../core/strut';
import { indexedDbStore } from '../host/key-store';
import { notify } from './store';

/** A strut list in the user's library. */
export interface StrutList {
  readonly name: string;
  readonly entries: readonly StrutListEntry[];
  /** Ours, made by rule; it can't be removed. */
  readonly own: boolean;
}

const GENERIC: StrutList = { name: 'Generic metric list (common practice)', entries: genericMetricList(), own: true };
/** Where an earlier edition kept the library: a few megabytes at most, which a long list does not fit into. */
const OLD_KEY = 'lidwright.strut-lists';

const kept = indexedDbStore();
const library = createStore<readonly StrutList[]>(() => [GENERIC]);
/** Every list of the library, ours first. */
export const useLists = (): readonly StrutList[] => useStore(library);

const isList = (l: unknown): l is StrutList =>
  typeof (l as StrutList | null)?.name === 'string' && Array.isArray((l as StrutList).entries);

const put = (list: StrutList): Promise<void> =>
  kept.change([{ table: 'lists', key: list.name, value: { name: list.name, entries: list.entries } }]);

const without = (name: string): StrutList[] => library.getState().filter((l) => l.own || l.name !== name);

/** What an earlier edition kept moves over; where that fails it stays where it is. Throws what the store throws. */
async function fromBefore(): Promise<void> {
  const text = localStorage.getItem(OLD_KEY);
  if (text === null) return;
  for (const list of (JSON.parse(text) as unknown[]).filter(isList)) await put(list);
  localStorage.removeItem(OLD_KEY);
}

let loading: Promise<void> | null = null;
/** Fetches the library, once; what can't be read of it is said. */
export const loadLists = (): Promise<void> => (loading ??= load());

async function load(): Promise<void> {
  try {
    await fromBefore();
    const found = await kept.all('lists');
    const lists = found.filter(isList).map((l) => ({ ...l, own: false }));
    const names = new Set(lists.map((l) => l.name));
    library.setState((now) => [...now.filter((l) => !names.has(l.name)), ...lists], true);
    if (lists.length < found.length)
      notify('A strut list of the library is torn and was left out. Import it again.', 'bad');
  } catch (error) {
    loading = null;
    notify(`The library of strut lists could not be read; only what is on the screen is here. ${why(error)}`, 'bad');
  }
}

const why = (error: unknown): string => {
  if (error instanceof LidwrightError) return wordsOf(error);
  return `${error instanceof Error ? error.message : String(error)}. Import yours again.`;
};

/** Puts a list into the library, in place of one of the same name, and says so; or why it is here until the page is closed only. */
export async function keepList(name: string, entries: readonly StrutListEntry[]): Promise<void> {
  const list: StrutList = { name, entries, own: false };
  const replaced = library.getState().some((l) => l.name === name);
  library.setState([...without(name), list], true);
  try {
    await put(list);
    notify(`${entries.length} struts of ${name} are in your library${replaced ? ', in place of those before' : ''}.`);
  } catch (error) {
    notify(`${name} is not in your library: it can be used until the page is closed. ${why(error)}`, 'bad');
  }
}

/** The list of struts that were measured on the bench. */
const MEASURED_LIST = 'My own struts';

/** Puts one more strut, in place of one of the same name, into the list of one's own. */
export async function keepOwnStrut(entry: StrutListEntry): Promise<void> {
  await loadLists();
  const before = library.getState().find((l) => !l.own && l.name === MEASURED_LIST)?.entries ?? [];
  await keepList(MEASURED_LIST, [...before.filter(({ name }) => name !== entry.name), entry]);
}

export async function dropList(name: string): Promise<void> {
  library.setState(without(name), true);
  try {
    await kept.change([{ table: 'lists', key: name }]);
  } catch (error) {
    notify(`${name} will be here again when the page is opened next. ${why(error)}`, 'bad');
  }
}

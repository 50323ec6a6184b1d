// The browser host's unsaved work. Each page holds a lock on the drafts it works on, so that a second tab does not offer
// them as lost.
import type { Draft } from './interface';
import type { KeyStore } from './key-store';

/** What we use of the browser's Web Locks. */
export interface Locks {
  request(name: string, options: { ifAvailable: boolean }, held: (lock: unknown) => Promise<void>): Promise<unknown>;
  query(): Promise<{ held?: { name?: string }[] }>;
}

export interface Drafts {
  put(draft: Draft): Promise<void>;
  list(): Promise<Draft[]>;
  drop(id: string): Promise<void>;
}

const lockName = (id: string): string => `lidwright-draft-${id}`;

const isDraft = (value: unknown): value is Draft =>
  typeof value === 'object' && value !== null && 'id' in value && 'text' in value && 'whenMs' in value;

export function browserDrafts(store: KeyStore, locks: Locks | null): Drafts {
  const release = new Map<string, () => void>();

  const hold = (id: string): void => {
    if (locks === null || release.has(id)) return;
    let letGo = (): void => undefined;
    const untilDropped = new Promise<void>((resolve) => (letGo = resolve));
    release.set(id, letGo);
    // Held until dropped or until the page goes away, however it goes.
    locks.request(lockName(id), { ifAvailable: true }, () => untilDropped).catch(() => release.delete(id));
  };

  return {
    async put(draft) {
      hold(draft.id);
      await store.put('drafts', draft.id, draft);
    },
    async list() {
      const all = (await store.all('drafts')).filter(isDraft);
      const held = new Set((await locks?.query())?.held?.map((lock) => lock.name));
      return all
        .filter((draft) => release.has(draft.id) || !held.has(lockName(draft.id)))
        .sort((a, b) => b.whenMs - a.whenMs);
    },
    async drop(id) {
      await store.remove('drafts', id);
      release.get(id)?.();
      release.delete(id);
    },
  };
}

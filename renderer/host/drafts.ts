// The browser host's unsaved work. Each page holds a lock on the drafts it works on, so that a second tab does not offer
// them as lost.
import { type Draft, type Host, KEPT_STATES } from './interface';
import type { Change, KeyStore } from './key-store';

/** What we use of the browser's Web Locks. */
export interface Locks {
  request<T>(name: string, options: { ifAvailable?: boolean }, held: (lock: unknown) => Promise<T>): Promise<T>;
  query(): Promise<{ held?: { name?: string }[] }>;
}

export type Drafts = Pick<Host, 'putDraft' | 'listDrafts' | 'draftPicture' | 'dropDraft'>;

const lockName = (id: string): string => `lidwright-draft-${id}`;

interface Kept {
  readonly key: string;
  readonly draft: Draft;
}

const keyOf = ({ id, whenMs }: Draft): string => `${id}.${whenMs}`;

/** A stored record, or null for none. An earlier edition kept one state a job, under the id alone and with its pictures inside. */
function keptFrom(value: unknown): Kept | null {
  if (typeof value !== 'object' || value === null || !('id' in value && 'text' in value && 'whenMs' in value))
    return null;
  const draft = value as Draft;
  return 'pictures' in value
    ? { key: keyOf(draft), draft }
    : { key: draft.id, draft: { ...draft, pictures: [], digest: null } };
}

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

  /** No other tab drops a picture while this one is about to count on it. */
  const alone = <T>(work: () => Promise<T>): Promise<T> =>
    locks ? locks.request('lidwright-drafts', {}, work) : work();

  const kept = async (): Promise<Kept[]> =>
    (await store.all('drafts'))
      .map(keptFrom)
      .filter((each) => each !== null)
      .sort((a, b) => b.draft.whenMs - a.draft.whenMs);

  /** What keeps these drafts and no others, nor pictures that none of them has. */
  const onlyThese = async (drafts: readonly Kept[]): Promise<Change[]> => {
    const wanted = new Set(drafts.flatMap(({ key, draft }) => [key, ...draft.pictures]));
    const gone = async (table: 'drafts' | 'pictures'): Promise<Change[]> =>
      (await store.keys(table)).filter((key) => !wanted.has(key)).map((key) => ({ table, key }));
    return [...(await gone('drafts')), ...(await gone('pictures'))];
  };

  return {
    putDraft: (draft, pictureOf) =>
      alone(async () => {
        hold(draft.id);
        const put = { key: keyOf(draft), draft };
        const others = (await kept()).filter(({ key }) => key !== put.key);
        const states = [put, ...others.filter((other) => other.draft.id === draft.id)].slice(0, KEPT_STATES);
        const there = new Set(await store.keys('pictures'));
        await store.change([
          ...draft.pictures
            .filter((name) => !there.has(name))
            .map((key): Change => ({ table: 'pictures', key, value: pictureOf(key) })),
          { table: 'drafts', key: put.key, value: draft },
          ...(await onlyThese([...states, ...others.filter((other) => other.draft.id !== draft.id)])),
        ]);
      }),

    async listDrafts() {
      const held = new Set((await locks?.query())?.held?.map((lock) => lock.name));
      return (await kept()).map(({ draft }) => draft).filter(({ id }) => release.has(id) || !held.has(lockName(id)));
    },

    draftPicture: async (name) => {
      const picture = await store.get('pictures', name);
      return picture instanceof Uint8Array ? Uint8Array.from(picture) : null;
    },

    dropDraft: (id) =>
      alone(async () => {
        await store.change(await onlyThese((await kept()).filter(({ draft }) => draft.id !== id)));
        release.get(id)?.();
        release.delete(id);
      }),
  };
}

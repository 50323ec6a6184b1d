import { describe, expect, it } from 'vitest';
import { browserDrafts, type Locks } from '../../../renderer/host/drafts';
import { type Draft, KEPT_STATES } from '../../../renderer/host/interface';
import { memoryStore } from '../../../renderer/host/key-store';

/** The browser's locks as several tabs see them; `closeTab` is what a kill does. */
function sharedLocks() {
  const held = new Map<string, number>();
  const tab = (number: number): Locks => ({
    async request(name, _options, work) {
      if (held.has(name)) return work(null);
      held.set(name, number);
      const done = await work({ name });
      held.delete(name);
      return done;
    },
    query: async () => ({ held: [...held.keys()].map((name) => ({ name })) }),
  });
  const closeTab = (number: number): void => held.forEach((owner, name) => owner === number && held.delete(name));
  return { tab, closeTab };
}

const draft = (id: string, whenMs = 1, pictures: string[] = []): Draft => ({
  ...{ id, name: id, text: '{}', whenMs, pictures, token: null, digest: null },
});
const bytes = (name: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(name);

describe('drafts in a browser', () => {
  it('are listed newest first and can be dropped', async () => {
    const drafts = browserDrafts(memoryStore(), null);
    await drafts.putDraft(draft('a', 1), bytes);
    await drafts.putDraft(draft('b', 2), bytes);
    await drafts.putDraft(draft('a', 3), bytes);
    expect((await drafts.listDrafts()).map(({ id }) => id)).toEqual(['a', 'b', 'a']);
    await drafts.dropDraft('a');
    expect((await drafts.listDrafts()).map(({ id }) => id)).toEqual(['b']);
  });

  it('of another tab that is alive are not offered as lost; after a kill they are', async () => {
    const store = memoryStore();
    const locks = sharedLocks();
    const first = browserDrafts(store, locks.tab(1));
    const second = browserDrafts(store, locks.tab(2));
    await first.putDraft(draft('mine'), bytes);
    expect(await second.listDrafts()).toEqual([]);
    expect(await first.listDrafts()).toHaveLength(1);
    locks.closeTab(1);
    expect(await second.listDrafts()).toHaveLength(1);
  });

  it('dropped drafts let go of their lock', async () => {
    const store = memoryStore();
    const locks = sharedLocks();
    const first = browserDrafts(store, locks.tab(1));
    await first.putDraft(draft('a'), bytes);
    await first.dropDraft('a');
    await browserDrafts(store, null).putDraft(draft('a'), bytes);
    expect(await browserDrafts(store, locks.tab(2)).listDrafts()).toHaveLength(1);
  });

  it('keep the last five states of a job, and each picture once as long as a state has it', async () => {
    const store = memoryStore();
    const drafts = browserDrafts(store, null);
    const asked: string[] = [];
    const asking = (name: string): Uint8Array<ArrayBuffer> => (asked.push(name), bytes(name));
    await drafts.putDraft(draft('other', 1, ['p']), asking);
    await drafts.putDraft(draft('a', 1, ['p', 'q']), asking);
    expect(asked).toEqual(['p', 'q']);
    expect(await drafts.draftPicture('q')).toEqual(bytes('q'));
    for (let when = 2; when < 2 + KEPT_STATES; when++) await drafts.putDraft(draft('a', when, ['p']), asking);
    expect((await drafts.listDrafts()).filter(({ id }) => id === 'a').map(({ whenMs }) => whenMs)).toEqual([
      6, 5, 4, 3, 2,
    ]);
    expect(await store.keys('pictures')).toEqual(['p']);
    await drafts.dropDraft('a');
    expect(await store.keys('pictures')).toEqual(['p']);
    await drafts.dropDraft('other');
    expect([await store.keys('pictures'), await store.keys('drafts')]).toEqual([[], []]);
    expect(await drafts.draftPicture('p')).toBeNull();
  });

  it('of an earlier edition stay until they are dropped', async () => {
    const store = memoryStore();
    const old = { id: 'old', name: 'old', text: '{}', whenMs: 5, token: null };
    await store.change([{ table: 'drafts', key: 'old', value: old }]);
    const drafts = browserDrafts(store, null);
    await drafts.putDraft(draft('new'), bytes);
    expect(await drafts.listDrafts()).toMatchObject([{ ...old, pictures: [], digest: null }, { id: 'new' }]);
    await drafts.dropDraft('old');
    expect(await store.keys('drafts')).toEqual(['new.1']);
  });
});

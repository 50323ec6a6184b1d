import { describe, expect, it } from 'vitest';
import { browserDrafts, type Locks } from '../../../renderer/host/drafts';
import { memoryStore } from '../../../renderer/host/key-store';

/** The browser's locks as several tabs see them; `closeTab` is what a kill does. */
function sharedLocks() {
  const held = new Map<string, number>();
  const tab = (number: number): Locks => ({
    async request(name, _options, work) {
      if (held.has(name)) return work(null);
      held.set(name, number);
      await work({ name });
      held.delete(name);
      return undefined;
    },
    query: async () => ({ held: [...held.keys()].map((name) => ({ name })) }),
  });
  const closeTab = (number: number): void => held.forEach((owner, name) => owner === number && held.delete(name));
  return { tab, closeTab };
}

const draft = (id: string, whenMs = 1) => ({ id, name: id, text: '{}', whenMs, token: null });

describe('drafts in a browser', () => {
  it('are listed newest first and can be dropped', async () => {
    const drafts = browserDrafts(memoryStore(), null);
    await drafts.put(draft('a', 1));
    await drafts.put(draft('b', 2));
    await drafts.put(draft('a', 3));
    expect((await drafts.list()).map(({ id }) => id)).toEqual(['a', 'b']);
    await drafts.drop('a');
    expect((await drafts.list()).map(({ id }) => id)).toEqual(['b']);
  });

  it('of another tab that is alive are not offered as lost; after a kill they are', async () => {
    const store = memoryStore();
    const locks = sharedLocks();
    const first = browserDrafts(store, locks.tab(1));
    const second = browserDrafts(store, locks.tab(2));
    await first.put(draft('mine'));
    expect(await second.list()).toEqual([]);
    expect(await first.list()).toHaveLength(1);
    locks.closeTab(1);
    expect(await second.list()).toHaveLength(1);
  });

  it('dropped drafts let go of their lock', async () => {
    const store = memoryStore();
    const locks = sharedLocks();
    const first = browserDrafts(store, locks.tab(1));
    await first.put(draft('a'));
    await first.drop('a');
    await browserDrafts(store, null).put(draft('a'));
    expect(await browserDrafts(store, locks.tab(2)).list()).toHaveLength(1);
  });
});

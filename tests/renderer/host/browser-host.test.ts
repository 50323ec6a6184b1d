import { createHash } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { browserHost } from '../../../renderer/host/browser-host';
import type { Host } from '../../../renderer/host/host';
import { type KeyStore, memoryStore } from '../../../renderer/host/key-store';
import { fakeBrowser, type FakeBrowser, fakeFile } from './fakes';

afterEach(() => vi.restoreAllMocks());

const draft = { id: 'a', name: 'a', text: 'x', pictures: [], whenMs: 1, token: null, digest: null };
const sum = (text: string): string => createHash('sha256').update(text).digest('hex');
const utf8 = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text);

const brokenStore: KeyStore = {
  get: () => Promise.reject(new Error('store')),
  all: () => Promise.reject(new Error('store')),
  keys: () => Promise.reject(new Error('store')),
  change: () => Promise.reject(new Error('store')),
};

describe('with the File System Access API', () => {
  let browser: FakeBrowser;
  let store: KeyStore;
  let host: Host;
  beforeEach(() => {
    browser = fakeBrowser({ pickers: true });
    store = memoryStore();
    host = browserHost(browser.win, store);
  });

  it('opens, saves in place, and saves as', async () => {
    const file = fakeFile('hatch.lidjob', '{"n":1}');
    const other = fakeFile('other.lidjob', '');
    browser.picks = [file, other];
    expect(host.canWriteInPlace).toBe(true);
    const job = (await host.openJob())!;
    expect(job).toMatchObject({ name: 'hatch.lidjob', bytes: utf8('{"n":1}') });
    expect(await host.saveJob(job.token, 'x', utf8('{"n":2}'), null)).toEqual({
      token: job.token,
      name: 'hatch.lidjob',
      how: 'written',
      digest: sum('{"n":2}'),
    });
    expect(file.content).toBe('{"n":2}');
    const saved = (await host.saveJob(null, 'Hatch: new/one', utf8('{"n":3}'), null))!;
    expect(browser.suggested).toEqual(['Hatch new one.lidjob']);
    expect(saved).toMatchObject({ name: 'other.lidjob', how: 'written' });
    expect(saved.token).not.toBe(job.token);
    expect([file.content, other.content]).toEqual(['{"n":2}', '{"n":3}']);
    expect(browser.downloads).toEqual([]);
  });

  it('gives null when the person calls it off', async () => {
    expect(await host.openJob()).toBeNull();
    expect(await host.saveJobAs('a', utf8('{}'))).toBeNull();
  });

  it.each(['create', 'write', 'close'] as const)('leaves the old file when %s fails, and says so', async (step) => {
    const file = fakeFile('a.lidjob', 'old');
    browser.picks = [file];
    const { token } = (await host.openJob())!;
    file.breaks = step;
    await expect(host.saveJob(token, 'a', utf8('new'), null)).rejects.toMatchObject({
      what: expect.stringMatching(/not saved .*as it was/),
      advice: expect.stringMatching(/Save as/),
    });
    expect(file.content).toBe('old');
    expect(file.aborted).toBe(step !== 'create');
  });

  it('opens a recent job again after a reload, with the person’s leave only', async () => {
    const file = fakeFile('a.lidjob', '{"n":1}');
    browser.picks = [file];
    await host.openJob();
    host = browserHost(browser.win, store); // the page is loaded again
    const [recent] = await host.recent();
    expect(recent).toMatchObject({ name: 'a.lidjob', where: 'a file on this machine' });
    file.leave = 'denied';
    await expect(host.openRecent(recent!.token)).rejects.toMatchObject({
      what: expect.stringMatching(/no leave to read/),
    });
    file.leave = 'granted';
    expect(await host.openRecent(recent!.token)).toMatchObject({ token: recent!.token, bytes: utf8('{"n":1}') });
  });

  it('says so when a recent file has gone', async () => {
    const file = fakeFile('a.lidjob', '{}');
    browser.picks = [file];
    const { token } = (await host.openJob())!;
    file.getFile = () => Promise.reject(new DOMException('gone', 'NotFoundError'));
    await expect(host.openRecent(token!)).rejects.toMatchObject({
      what: expect.stringMatching(/can't be read/),
      advice: expect.stringMatching(/moved, renamed or deleted/),
    });
  });

  it('does not overwrite what another program changed while the copy was being written', async () => {
    const file = fakeFile('a.lidjob', 'old');
    browser.picks = [file];
    const { token, digest } = (await host.openJob())!;
    const create = file.createWritable;
    file.createWritable = async () => {
      const stream = await create();
      return {
        ...stream,
        write: async (data: Blob) => {
          await stream.write(data);
          file.content = 'theirs'; // a long write: the other one is done first
        },
      };
    };
    await expect(host.saveJob(token, 'a', utf8('mine'), digest)).rejects.toMatchObject({
      what: '"a.lidjob" was changed by another program since you opened it, so it was not overwritten.',
    });
    expect([file.content, file.aborted]).toEqual(['theirs', true]);
  });

  it('does not overwrite what another tab or program changed meanwhile, but puts back a file that has gone', async () => {
    const file = fakeFile('a.lidjob', 'old');
    browser.picks = [file];
    const { token, digest } = (await host.openJob())!;
    const other = browserHost(browser.win, store); // a second tab on the same file
    const saved = (await other.saveJob(token, 'a', utf8('theirs'), digest))!;
    const mine = (): Promise<unknown> => host.saveJob(token, 'a', utf8('mine'), digest);
    const changed = {
      what: '"a.lidjob" was changed by another program since you opened it, so it was not overwritten.',
      advice: expect.stringMatching(/Save as/),
    };
    await expect(mine()).rejects.toMatchObject(changed);
    expect(file.content).toBe('theirs');
    expect(saved.digest).toBe(sum('theirs'));
    // unreadable and too large count as changed; gone does not
    const read = file.getFile;
    file.getFile = () => Promise.reject(new DOMException('locked', 'NotReadableError'));
    await expect(mine()).rejects.toMatchObject(changed);
    file.getFile = async () => ({ name: 'a.lidjob', size: 65 * 1024 * 1024 }) as File;
    await expect(mine()).rejects.toMatchObject(changed);
    expect(file.content).toBe('theirs');
    file.getFile = () => Promise.reject(new DOMException('gone', 'NotFoundError'));
    expect(await host.presentDigest(token!)).toBeNull();
    expect(await mine()).toMatchObject({ how: 'written' });
    file.getFile = read;
    expect(await host.presentDigest(token!)).toBe(sum('mine'));
  });

  it('refuses tokens it did not give out', async () => {
    await expect(host.openRecent('made-up')).rejects.toMatchObject({ name: 'LidwrightError' });
    await expect(host.saveJob('made-up', 'a', utf8('{}'), null)).rejects.toMatchObject({ name: 'LidwrightError' });
  });

  it('lists at most ten, newest first', async () => {
    vi.spyOn(Date, 'now').mockImplementation(
      (() =>
        (
          (time) => () =>
            (time += 1)
        )(1000))(),
    );
    for (let number = 0; number < 13; number++) {
      browser.picks = [fakeFile(`${number}.lidjob`, '{}')];
      await host.openJob();
    }
    expect((await browserHost(browser.win, store).recent()).map(({ name }) => name)).toEqual(
      [12, 11, 10, 9, 8, 7, 6, 5, 4, 3].map((number) => `${number}.lidjob`),
    );
  });

  it('knows a file again that is picked twice', async () => {
    const file = fakeFile('a.lidjob', '{}');
    browser.picks = [file, fakeFile('a.lidjob', '{}'), file];
    const first = (await host.openJob())!;
    expect((await host.openJob())!.token).not.toBe(first.token);
    expect((await host.saveJobAs('a', utf8('{}')))!.token).toBe(first.token);
    expect(await host.recent()).toHaveLength(2);
  });

  it('saves even where the browser keeps nothing, and tells that where it matters', async () => {
    host = browserHost(browser.win, brokenStore);
    const file = fakeFile('a.lidjob', 'old');
    browser.picks = [file];
    const { token } = (await host.openJob())!;
    expect(await host.saveJob(token, 'a', utf8('new'), null)).toMatchObject({ how: 'written' });
    expect(file.content).toBe('new');
    await expect(host.recent()).rejects.toThrow();
    await expect(host.putDraft(draft, utf8)).rejects.toThrow();
  });

  it('refuses a job that is empty or too large before it reads it', async () => {
    const large = fakeFile('large.lidjob', '');
    large.getFile = async () => ({ name: 'large.lidjob', size: 200 * 1024 * 1024 }) as File; // never read: arrayBuffer is missing
    for (const [file, words] of [
      [fakeFile('empty.lidjob', ''), /empty/],
      [large, /200 MiB/],
    ] as const) {
      browser.picks = [file];
      await expect(host.openJob()).rejects.toMatchObject({ what: expect.stringMatching(words) });
    }
  });
});

describe('without it', () => {
  let browser: FakeBrowser;
  let store: KeyStore;
  let host: Host;
  beforeEach(() => {
    browser = fakeBrowser({ pickers: false });
    store = memoryStore();
    host = browserHost(browser.win, store);
  });

  it('downloads copies, says so, and keeps the last one', async () => {
    expect(host.canWriteInPlace).toBe(false);
    const saved = (await host.saveJobAs('Hatch', utf8('{"n":1}')))!;
    expect(saved).toMatchObject({ name: 'Hatch.lidjob', how: 'downloaded' });
    await host.saveJob(saved.token, 'ignored', utf8('{"n":2}'), null);
    expect(browser.downloads.map(({ name }) => name)).toEqual(['Hatch.lidjob', 'Hatch.lidjob']);
    expect(await browser.downloads[1]!.blob.text()).toBe('{"n":2}');
    host = browserHost(browser.win, store);
    const [recent] = await host.recent();
    expect(recent).toMatchObject({ name: 'Hatch.lidjob', where: 'a copy kept in this browser' });
    expect(await host.openRecent(recent!.token)).toMatchObject({ bytes: utf8('{"n":2}') });
  });

  it('opens through an input, and can be called off', async () => {
    expect(await host.openJob()).toBeNull();
    browser.inputFile = new File(['{"n":1}'], 'a.lidjob');
    expect(await host.openJob()).toMatchObject({ name: 'a.lidjob', bytes: utf8('{"n":1}') });
  });
});

describe('either way', () => {
  const browser = (): FakeBrowser => fakeBrowser({ pickers: true });

  it('exports as a download, bytes as they are', async () => {
    const { win, downloads } = browser();
    const bytes = new Uint8Array([0, 1, 2, 255]);
    expect(await browserHost(win, memoryStore()).exportFile('a.pdf', bytes.subarray(1), 'application/pdf')).toEqual({
      token: null,
      name: 'a.pdf',
      how: 'downloaded',
      digest: null,
    });
    expect(downloads[0]!.blob.type).toBe('application/pdf');
    expect([...new Uint8Array(await downloads[0]!.blob.arrayBuffer())]).toEqual([1, 2, 255]);
  });

  it('reads what ships, by a checked name', async () => {
    const { win, fetched } = browser();
    const host = browserHost(win, memoryStore());
    expect(new TextDecoder().decode(await host.readAsset('examples/a.lidjob'))).toBe('shipped');
    expect(fetched).toEqual(['http://127.0.0.1:1/examples/a.lidjob']);
    await expect(host.readAsset('none')).rejects.toMatchObject({ what: expect.stringMatching(/not among/) });
    for (const name of [
      '//evil.example/x',
      'https://evil.example/x',
      '../x',
      '/x',
      'a/../../x',
      'a\\b',
      '%2e%2e/x',
      '',
    ])
      await expect(host.readAsset(name), name).rejects.toMatchObject({ name: 'LidwrightError' });
    expect(fetched).toHaveLength(2);
  });

  it('asks before leaving only when something is unsaved', () => {
    const { win, listeners } = browser();
    let unsaved = false;
    browserHost(win, memoryStore()).onAskClose(() => unsaved);
    const preventDefault = vi.fn();
    listeners.get('beforeunload')!({ preventDefault });
    expect(preventDefault).not.toHaveBeenCalled();
    unsaved = true;
    listeners.get('beforeunload')!({ preventDefault });
    expect(preventDefault).toHaveBeenCalledOnce();
  });
});

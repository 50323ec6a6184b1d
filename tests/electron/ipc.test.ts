import type { IpcMainInvokeEvent } from 'electron';
import { describe, expect, it } from 'vitest';
import { fail } from '../../core/error';
import { ASKS, channelOf, type Ask } from '../../electron/channels';
import { isOurPage, setupIpc, type Handlers } from '../../electron/ipc';
import type { Outcome } from '../../renderer/host/bridge';

const OURS = 7;
const sender = (
  frame: { url?: string; parent?: unknown } | null = {},
  id = OURS,
): Pick<IpcMainInvokeEvent, 'sender' | 'senderFrame'> =>
  ({
    sender: { id },
    senderFrame: frame && { url: 'app://lidwright/index.html', parent: null, ...frame },
  }) as unknown as IpcMainInvokeEvent;

/** A door with handlers that note what reached them. */
function door(special: Partial<Handlers> = {}) {
  const reached: unknown[] = [];
  const logged: unknown[] = [];
  const channels = new Map<string, (event: IpcMainInvokeEvent, ...args: unknown[]) => Promise<Outcome<unknown>>>();
  const handlers = Object.fromEntries(
    ASKS.map((name) => [name, (...args: unknown[]) => void reached.push([name, ...args])]),
  ) as unknown as Handlers;
  setupIpc(
    { handle: (channel, listener) => void channels.set(channel, listener as never) },
    { ...handlers, ...special },
    () => OURS,
    (error) => logged.push(error),
  );
  const send = (name: Ask, args: unknown[], event = sender()): Promise<Outcome<unknown>> =>
    channels.get(channelOf(name))!(event as IpcMainInvokeEvent, ...args);
  return { send, reached, logged, channels };
}

describe('who may send', () => {
  it('only the top frame of our own window, showing our own page', () => {
    expect(isOurPage(sender(), OURS)).toBe(true);
    expect(isOurPage(sender(), null)).toBe(false);
    expect(isOurPage(sender({}, 8), OURS)).toBe(false);
    expect(isOurPage(sender(null), OURS)).toBe(false);
    expect(isOurPage(sender({ parent: {} }), OURS)).toBe(false);
    for (const url of ['https://example.org/', 'app://lidwright.example.org/', 'about:blank', 'file:///index.html', ''])
      expect(isOurPage(sender({ url }), OURS), url).toBe(false);
  });

  it('a foreign sender is refused on every channel, and its handler is never reached', async () => {
    const { send, reached } = door();
    for (const name of ASKS)
      for (const event of [
        sender({}, 8),
        sender(null),
        sender({ parent: {} }),
        sender({ url: 'https://example.org/' }),
      ]) {
        const outcome = await send(name, [], event);
        expect(outcome).toMatchObject({ ok: false, issue: { what: 'This page may not ask that.' } });
      }
    expect(reached).toEqual([]);
  });
});

describe('what may be sent', () => {
  const picture = `${'0'.repeat(64)}.jpg`;
  const draft = {
    ...{ id: 'job-1', name: 'a', text: '{}', pictures: [picture], whenMs: 1, token: null, digest: null },
    others: { 'notes.txt': `${'1'.repeat(64)}.bin` },
  };
  const job = new Uint8Array([123, 125]);

  it('well-formed arguments reach the handler', async () => {
    const { send, reached } = door();
    const good: [Ask, unknown[]][] = [
      ['openJob', []],
      ['openRecent', ['t']],
      ['saveJob', [null, 'a.lidjob', job, null]],
      ['saveJob', ['t', 'a.lidjob', job, 'a'.repeat(64)]],
      ['missingPictures', [[picture]]],
      ['draftPicture', [picture]],
      ['exportFile', ['a.pdf', new Uint8Array([1]), 'application/pdf']],
      ['putDraft', [draft, [[picture, job]]]],
      ['closeAnswer', [1, true]],
    ];
    for (const [name, args] of good) expect(await send(name, args), name).toEqual({ ok: true, value: undefined });
    expect(reached).toEqual(good.map(([name, args]) => [name, ...args]));
  });

  it('malformed arguments are refused before the handler', async () => {
    const { send, reached, logged } = door();
    const bad: [Ask, unknown[]][] = [
      ['openJob', ['/etc/passwd']],
      ['openRecent', []],
      ['openRecent', [{ path: '/etc/passwd' }]],
      ['openRecent', ['x'.repeat(101)]],
      ['saveJob', [undefined, 'a', job, null]],
      ['saveJob', [null, '', job, null]],
      ['saveJob', [null, 'a', '{}', null]],
      ['saveJob', [null, 'a', new Uint8Array(), null]],
      ['saveJob', [null, 'a', job, 'ABC']],
      ['saveJob', [null, 'a', job]],
      ['saveJob', [null, 'a', job, null, 'more']],
      ['saveJob', [null, 'a', new Uint8Array(64 * 1024 * 1024 + 1), null]],
      ['draftPicture', ['../../x']],
      ['missingPictures', [['x']]],
      ['putDraft', [draft, [['../x.jpg', job]]]],
      ['putDraft', [draft, [[picture, new Uint8Array(45_000_000)]]]],
      ['putDraft', [{ ...draft, text: 'é'.repeat(32 * 1024 * 1024 + 1) }, []]],
      ['putDraft', [{ ...draft, pictures: ['/etc/passwd'] }, []]],
      ['putDraft', [{ ...draft, others: { a: '/etc/passwd' } }, []]],
      ['exportFile', ['a.pdf', [1, 2], 'application/pdf']],
      ['exportFile', ['a.pdf', new Uint8Array(0), 'application/pdf']],
      ['readAsset', [42]],
      ['putDraft', [{ ...draft, id: '../../x' }, []]],
      ['putDraft', [{ ...draft, whenMs: NaN }, []]],
      ['putDraft', [{ ...draft, path: '/etc/passwd' }, []]],
      ['dropDraft', ['a/b']],
      ['closeAnswer', ['1', true]],
    ];
    for (const [name, args] of bad) {
      const outcome = await send(name, args);
      expect(outcome.ok, `${name} ${String(args).slice(0, 40)}`).toBe(false);
    }
    expect(reached).toEqual([]);
    expect(logged).toHaveLength(bad.length);
  });
});

describe('how failures come back', () => {
  it('an error in words keeps its three fields', async () => {
    const { send, logged } = door({ openJob: () => fail('It is torn.', ['points', 3], 'Open a copy.') });
    expect(await send('openJob', [])).toEqual({
      ok: false,
      issue: { what: 'It is torn.', where: ['points', 3], advice: 'Open a copy.' },
    });
    expect(logged).toEqual([]);
  });

  it('any other error becomes words too, and leaves a trace', async () => {
    const boom = Object.assign(new Error('ENOENT: …'), { code: 'ENOENT', path: '/x/a.lidjob' });
    const { send, logged } = door({ openJob: () => Promise.reject(boom) });
    expect(await send('openJob', [])).toMatchObject({ ok: false, issue: { what: '"/x/a.lidjob" is not there.' } });
    expect(logged).toEqual([boom]);
  });
});

import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { Bridge } from '../../renderer/host/bridge';
import { hostFromBridge } from '../../renderer/host/bridge';
import { browserHost } from '../../renderer/host/browser-host';
import { memoryStore } from '../../renderer/host/key-store';

const electron = vi.hoisted(() => {
  const listeners = new Map<string, (event: unknown, value: unknown) => void>();
  return {
    exposed: {} as Record<string, unknown>,
    invoked: [] as unknown[][],
    answer: (): unknown => ({ ok: true, value: 'fine' }),
    listeners,
    tell: (channel: string, value: unknown) => listeners.get(channel)?.({ secret: 'event' }, value),
  };
});

vi.mock('electron', () => ({
  contextBridge: { exposeInMainWorld: (name: string, api: unknown) => (electron.exposed[name] = api) },
  ipcRenderer: {
    invoke: async (...args: unknown[]) => {
      electron.invoked.push(args);
      return electron.answer();
    },
    on: (channel: string, listener: (event: unknown, value: unknown) => void) =>
      electron.listeners.set(channel, listener),
  },
}));

await import('../../electron/preload');
const bridge = (): Bridge => electron.exposed['lidwright'] as Bridge;

beforeEach(() => {
  electron.invoked.length = 0;
  electron.answer = () => ({ ok: true, value: 'fine' });
});

/** The Host's members, taken from the browser's host, which the type checker holds to the interface. */
const members = Object.keys(
  browserHost({ navigator: {}, crypto: globalThis.crypto } as unknown as Window, memoryStore()),
).sort();

describe('the preload', () => {
  it('gives the page the Host’s members, what a draft’s pictures need, and nothing else', () => {
    expect(Object.keys(electron.exposed)).toEqual(['lidwright']);
    expect(Object.keys(bridge()).sort()).toEqual([...members, 'missingPictures'].sort());
    expect(Object.keys(hostFromBridge(bridge())).sort()).toEqual(members);
    expect(members).toHaveLength(18);
  });

  it('sends each ask on a channel of its own, with the arguments as they are', async () => {
    const host = hostFromBridge(bridge());
    const bytes = new Uint8Array([1]);
    await host.saveJob('t', 'n', bytes, null);
    await host.readBeside('t', 'a.png');
    await host.listDrafts();
    expect(electron.invoked).toEqual([
      ['lidwright:saveJob', 't', 'n', bytes, null],
      ['lidwright:readBeside', 't', 'a.png'],
      ['lidwright:listDrafts'],
    ]);
  });

  it('a draft is sent with the pictures that main misses', async () => {
    const host = hostFromBridge(bridge());
    const draft = { id: 'a', name: 'a', text: '{}', pictures: ['p', 'q'], whenMs: 1, token: null, digest: null };
    electron.answer = () => ({ ok: true, value: ['q'] });
    await host.putDraft(draft, (name) => new TextEncoder().encode(name));
    expect(electron.invoked).toEqual([
      ['lidwright:missingPictures', ['p', 'q']],
      ['lidwright:putDraft', draft, [['q', new TextEncoder().encode('q')]]],
    ]);
  });

  it('an issue becomes an error with its fields again on the page’s side', async () => {
    electron.answer = () => ({ ok: false, issue: { what: 'Full.', where: ['a'], advice: 'Make room.' } });
    await expect(hostFromBridge(bridge()).openJob()).rejects.toMatchObject({
      name: 'LidwrightError',
      what: 'Full.',
      where: ['a'],
      advice: 'Make room.',
    });
  });

  it('a message that can’t be delivered becomes an issue too', async () => {
    electron.answer = () => {
      throw new Error('no handler');
    };
    expect(await bridge().openJob()).toMatchObject({ ok: false, issue: { what: 'no handler' } });
  });

  it('answers the closing question from the page’s own word, and with "unsaved" if that fails', () => {
    electron.tell('lidwright:askClose', 1);
    bridge().onAskClose(() => true);
    electron.tell('lidwright:askClose', 2);
    bridge().onAskClose(() => {
      throw new Error('broken page');
    });
    expect(() => electron.tell('lidwright:askClose', 3)).toThrow('broken page');
    expect(electron.invoked).toEqual([
      ['lidwright:closeAnswer', 1, false],
      ['lidwright:closeAnswer', 2, true],
      ['lidwright:closeAnswer', 3, true],
    ]);
  });

  it('hands over jobs and commands without Electron’s event, and says when it listens', () => {
    const got: unknown[][] = [];
    bridge().onOpenAsked((...args) => got.push(args));
    bridge().onCommand((...args) => got.push(args));
    electron.tell('lidwright:openAsked', { token: 't', name: 'n', bytes: 'x' });
    electron.tell('lidwright:command', 'save');
    expect(got).toEqual([[{ token: 't', name: 'n', bytes: 'x' }], ['save']]);
    expect(electron.invoked).toEqual([['lidwright:listening']]);
  });
});

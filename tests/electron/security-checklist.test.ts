// Electron's own security guide, point by point (Electron documentation, "Security", checklist of 20 recommendations; the
// numbers and titles are its own, from memory of the page as of 2025). Main is run whole, against an Electron that takes notes.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import packaging from '../../electron-builder.config';
import { ASKS, channelOf } from '../../electron/channels';
import { lockContents, mayLoad } from '../../electron/lockdown';
import { menuTemplate } from '../../electron/menu';
import { jobFromArguments } from '../../electron/start-argument';
import { windowOptions } from '../../electron/window-options';
import securityHeaders from '../../electron/security-headers.json';

const electron = await vi.hoisted(async () => {
  const { tmpdir } = await import('node:os');
  const { fakeElectron } = await import('./fake-electron');
  return fakeElectron(tmpdir());
});
vi.mock('electron', () => electron.module);
await import('../../electron/main');
await vi.waitFor(() => expect(electron.log).toContain('load'), { timeout: 120_000 });

const ROOT = path.resolve(import.meta.dirname, '../..');
const [win] = electron.windows;
const preferences = win!.options.webPreferences;
const policy = Object.fromEntries(
  securityHeaders['Content-Security-Policy'].split('; ').map((rule) => {
    const [name, ...sources] = rule.split(' ');
    return [name, sources.join(' ')];
  }),
);
/** Every source file of electron/, with its text. */
const sources = readdirSync(path.join(ROOT, 'electron'), { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts'))
  .map((name) => ({ name, text: readFileSync(path.join(ROOT, 'electron', name), 'utf8') }));

const refused = (url: string): boolean => {
  let verdict = false;
  electron.beforeRequest!({ url }, ({ cancel }) => (verdict = cancel));
  return verdict;
};

/** Does the page's listener for this event stop it? */
function stops(event: string, ...args: unknown[]): boolean {
  const preventDefault = vi.fn();
  electron.contentsEvents.get(event)!({ preventDefault } as never, ...(args as never[]));
  return preventDefault.mock.calls.length > 0;
}

describe('Electron’s security guide', () => {
  it('1 only load secure content: one window, our own scheme, and no request leaves for anywhere else', () => {
    expect(electron.windows).toHaveLength(1);
    expect(win!.loaded).toEqual(['app://lidwright/index.html']);
    for (const url of [
      'http://example.org/',
      'https://example.org/x.js',
      'ws://example.org/',
      'file:///etc/passwd',
      'ftp://x/',
      'app://other/',
    ])
      expect(refused(url), url).toBe(true);
    for (const url of ['app://lidwright/a.js', 'data:image/png;base64,AA', 'blob:app://lidwright/1'])
      expect(refused(url), url).toBe(false);
    expect(mayLoad('devtools://elsewhere/')).toBe(false);
  });

  it('2 no Node in the page', () => {
    expect(preferences).toMatchObject({
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
    });
  });

  it('3 context isolation is on', () => expect(preferences['contextIsolation']).toBe(true));

  it('4 the sandbox is on, for the window and for the whole program before it is ready', () => {
    expect(preferences['sandbox']).toBe(true);
    expect(electron.log.indexOf('sandbox')).toBeGreaterThanOrEqual(0);
    expect(electron.log.indexOf('sandbox')).toBeLessThan(electron.log.indexOf('ready'));
    for (const { name, text } of sources) expect(text, name).not.toContain('no-sandbox');
  });

  it('5 every permission is refused, but for our page’s own copy buttons', () => {
    const ours = 'app://lidwright/index.html';
    const asked = (permission: string, url: string): boolean[] => {
      const answers: boolean[] = [];
      electron.permissionRequest!({}, permission, (yes) => answers.push(yes), { requestingUrl: url });
      return [...answers, electron.permissionCheck!({}, permission, url)];
    };
    for (const permission of ['media', 'geolocation', 'notifications', 'clipboard-read', 'openExternal', 'fileSystem'])
      expect(asked(permission, ours), permission).toEqual([false, false]);
    expect(asked('clipboard-sanitized-write', ours)).toEqual([true, true]);
    expect(asked('clipboard-sanitized-write', 'https://example.org/')).toEqual([false, false]);
    expect(electron.deviceCheck!()).toBe(false);
  });

  it('5 no download starts by itself: files are written by main, where the person said', () => {
    const preventDefault = vi.fn();
    electron.sessionEvents.get('will-download')!({ preventDefault } as never);
    expect(preventDefault).toHaveBeenCalledOnce();
  });

  it('6 web security is on', () => expect(preferences['webSecurity']).toBe(true));

  it('7 a content security policy that starts from nothing and lets no foreign or made-up script in', () => {
    expect(policy).toMatchObject({
      'default-src': "'none'",
      'script-src': "'self'",
      'worker-src': "'self'",
      'object-src': "'none'",
      'base-uri': "'none'",
      'form-action': "'none'",
      'frame-src': "'none'",
      'frame-ancestors': "'none'",
    });
    expect(JSON.stringify(policy)).not.toMatch(/https?:|\*|unsafe-eval/);
    expect(policy['script-src']).not.toContain('unsafe-inline');
  });

  it('8 no insecure content', () => expect(preferences['allowRunningInsecureContent']).toBe(false));

  it('9 no experimental features', () => expect(preferences['experimentalFeatures']).toBe(false));

  it('10 no extra engine features', () => {
    expect(preferences).not.toHaveProperty('enableBlinkFeatures');
    for (const { name, text } of sources) expect(text, name).not.toMatch(/enable-?blink-?features/i);
  });

  it('11 and 12 no web views at all: none can be made, none can be attached', () => {
    expect(preferences['webviewTag']).toBe(false);
    expect(stops('will-attach-webview', {}, {})).toBe(true);
  });

  it('13 no navigation away from the page', () => {
    expect(stops('will-navigate', 'https://example.org/')).toBe(true);
    expect(stops('will-navigate', 'file:///etc/passwd')).toBe(true);
    expect(stops('will-navigate', 'app://lidwright/index.html')).toBe(false);
    expect(stops('will-redirect')).toBe(true);
    expect(preferences['navigateOnDragDrop']).toBe(false);
  });

  it('14 no new windows', () => expect(electron.windowOpen!()).toEqual({ action: 'deny' }));

  it('13 and 14 hold for every page from the moment it exists, not only for the window’s', () => {
    const opened = { on: vi.fn(), setWindowOpenHandler: vi.fn() };
    electron.appEvents.get('web-contents-created')!({} as never, opened as never);
    expect(opened.setWindowOpenHandler).toHaveBeenCalledOnce();
    const locked = { on: vi.fn(), setWindowOpenHandler: vi.fn() };
    lockContents(locked as never);
    expect(opened.on.mock.calls.map(([name]) => name as string)).toEqual(
      locked.on.mock.calls.map(([name]) => name as string),
    );
  });

  it('15 nothing is opened outside', () => {
    for (const { name, text } of sources) expect(text, name).not.toMatch(/\bshell\b|openExternal|openPath\(.*url/);
  });

  it('16 Electron is a pinned, present version', () => {
    const { devDependencies } = JSON.parse(readFileSync(path.join(ROOT, 'package.json'), 'utf8')) as {
      devDependencies: Record<string, string>;
    };
    expect(devDependencies['electron']).toMatch(/^\d+\.\d+\.\d+$/);
    expect(Number(devDependencies['electron']!.split('.')[0])).toBeGreaterThanOrEqual(45);
  });

  it('17 the sender of every message is checked: a foreign one gets nothing from any channel', async () => {
    expect([...electron.handled.keys()].sort()).toEqual(ASKS.map(channelOf).sort());
    for (const [channel, handler] of electron.handled) {
      const event = { sender: { id: 2 }, senderFrame: { url: 'https://example.org/', parent: null } };
      expect(await handler(event as never), channel).toMatchObject({ ok: false });
    }
    for (const { name, text } of sources)
      if (name !== 'ipc.ts') expect(text, name).not.toMatch(/ipcMain\.(on|handle|once)\b/);
  });

  it('18 a scheme of our own, privileged before the program is ready, and no file: addresses', () => {
    expect(electron.schemes.map(({ scheme }) => scheme)).toEqual(['app']);
    expect(electron.log.indexOf('privileges')).toBeLessThan(electron.log.indexOf('ready'));
    for (const { name, text } of sources) expect(text, name).not.toMatch(/loadFile|file:\/\//);
  });

  it('19 fuses: nothing leans on what they take away, and the package flips them', () => {
    expect(packaging.electronFuses).toMatchObject({ runAsNode: false, onlyLoadAppFromAsar: true });
    for (const { name, text } of sources) expect(text, name).not.toMatch(/ELECTRON_RUN_AS_NODE|NODE_OPTIONS|--inspect/);
  });

  it('20 no Electron in the page: the preload gives out functions of its own only', () => {
    const preload = sources.find(({ name }) => name === 'preload.ts')!.text;
    expect(preload.match(/exposeInMainWorld\(/g)).toHaveLength(1);
    expect(preload).not.toMatch(/exposeInMainWorld\([^)]*ipcRenderer|:\s*ipcRenderer\b/);
  });
});

describe('the page on it', () => {
  const page = readFileSync(path.join(ROOT, 'electron/SECURITY.md'), 'utf8');
  const rows = [...page.matchAll(/^\| (\d+(?:, \d+)?) .*\| `(.+)` \|$/gm)].map(([, items, test]) => ({ items, test }));

  it('has every one of the 20 items, each with a test that there is', () => {
    const numbers = new Set(rows.flatMap(({ items }) => items!.split(', ').map(Number)));
    expect([...numbers].sort((a, b) => a - b)).toEqual(Array.from({ length: 20 }, (_, i) => i + 1));
    const own = readFileSync(import.meta.filename, 'utf8');
    const names = [...own.matchAll(/\bit\('(\d+ .+?)',/g)].map(([, name]) => name);
    expect(rows.map(({ test }) => test)).toEqual(names);
  });
});

describe('the order of the start', () => {
  it('locks the session and serves the scheme before there is a window', () => {
    expect(electron.log).toEqual([
      'sandbox',
      'privileges',
      'single',
      'ready',
      'session locked',
      'scheme',
      'menu',
      'window',
      'load',
    ]);
  });

  it('the developer tools are shut unless asked for', () => {
    expect(windowOptions({ preload: '/p' }).webPreferences?.devTools).toBe(false);
    expect(windowOptions({ preload: '/p', devTools: true }).webPreferences?.devTools).toBe(true);
  });

  it('finds the job among the arguments', () => {
    expect(jobFromArguments(['electron', '/project', 'a.lidjob'], false, '/home')).toBe('/home/a.lidjob');
    expect(jobFromArguments(['electron', '/project'], false, '/home')).toBeNull();
    expect(jobFromArguments(['electron', '--a', '--b=c', '/project'], false, '/home')).toBeNull();
    expect(jobFromArguments(['/opt/lidwright', '--flag', '/x/a.lidjob'], true, '/home')).toBe('/x/a.lidjob');
  });
});

describe('the menu', () => {
  it('sends the page’s commands, and leaves the keys to the page', () => {
    const sent: string[] = [];
    const items = menuTemplate((command) => sent.push(command)).flatMap(
      ({ submenu }) => submenu as { click?: () => void; accelerator?: string; registerAccelerator?: boolean }[],
    );
    items.forEach(({ click }) => click?.());
    expect(sent).toEqual(['new', 'open', 'save', 'saveAs', 'undo', 'redo']);
    for (const item of items.filter(({ accelerator }) => accelerator)) expect(item.registerAccelerator).toBe(false);
  });
});

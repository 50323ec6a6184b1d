// The desktop window itself, with the real Electron and the built program.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { _electron, type ElectronApplication, expect, type Page, test } from '@playwright/test';
import type { Bridge } from '../../renderer/host/bridge';

const ROOT = path.resolve(import.meta.dirname, '../..');
/** As root, the engine refuses to start with its sandbox; only then is it left out, and only here. */
const asRoot = process.getuid?.() === 0 ? ['--no-sandbox'] : [];

let folder: string;
let app: ElectronApplication;
let page: Page;

async function start(...args: string[]): Promise<void> {
  app = await _electron.launch({
    args: [...asRoot, `--user-data-dir=${path.join(folder, 'own')}`, ROOT, ...args],
    cwd: ROOT,
  });
  page = await app.firstWindow();
  await page.waitForLoadState('domcontentloaded');
}

/** What the page's own side of the bridge answers. */
const host = <T>(work: (host: Bridge) => Promise<T>): Promise<T> =>
  page.evaluate(`(${String(work)})(window.lidwright)`) as Promise<T>;

/** The next file dialogs answer with this path. */
const pick = (file: string): Promise<void> =>
  app.evaluate(({ dialog }, picked) => {
    dialog.showOpenDialog = async () => ({ canceled: false, filePaths: [picked] });
    dialog.showSaveDialog = async () => ({ canceled: false, filePath: picked });
  }, file);

test.beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'lidwright-window-'));
});
test.afterEach(async () => {
  await app.evaluate(({ app: main }) => main.exit(0)).catch(() => undefined);
  rmSync(folder, { recursive: true, force: true });
});

test('the page runs under its own scheme, in a sandbox, with the Host and nothing of Node', async () => {
  await start();
  expect(page.url()).toBe('app://lidwright/index.html');
  expect(await page.evaluate('[typeof require, typeof process, typeof module].join()')).toBe(
    'undefined,undefined,undefined',
  );
  expect(await page.evaluate('window.lidwright.kind')).toBe('desktop');
  expect(await page.evaluate('fetch("https://example.org/").then(() => "reached", () => "refused")')).toBe('refused');
  expect(await page.evaluate('window.open("https://example.org/") === null')).toBe(true);
  expect(await page.evaluate('fetch("app://lidwright/../main/main.js").then((r) => r.status)')).toBe(404);
});

test('opens, saves in place, and finds the job again among the recent ones', async () => {
  const file = path.join(folder, 'a.lidjob');
  writeFileSync(file, '{"n":1}');
  await start();
  await pick(file);
  const saved = await host(async (bridge) => {
    const opened = await bridge.openJob();
    if (!opened.ok || opened.value === null) throw new Error(JSON.stringify(opened));
    return bridge.saveJob(opened.value.token, 'a', new TextEncoder().encode('{"n":2}'), opened.value.digest);
  });
  expect(saved).toMatchObject({ ok: true, value: { name: 'a.lidjob', how: 'written' } });
  expect(readFileSync(file, 'utf8')).toBe('{"n":2}');
  expect(await host((bridge) => bridge.recent())).toMatchObject({ ok: true, value: [{ name: 'a.lidjob' }] });
});

test('a draft is there after a kill', async () => {
  await start();
  await host((bridge) =>
    bridge.putDraft({ id: 'd', name: 'd', text: '{"n":3}', pictures: [], whenMs: 1, token: null, digest: null }, []),
  );
  app.process().kill('SIGKILL');
  await start();
  const drafts = await host((bridge) => bridge.listDrafts());
  expect(drafts.ok && drafts.value.find(({ id }) => id === 'd')?.text).toBe('{"n":3}');
});

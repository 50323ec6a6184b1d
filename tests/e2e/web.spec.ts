// The web edition: from a path of any host, offline after the first visit, and changed for a newer one only between two visits.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { test as base, expect, type Page } from '@playwright/test';
import { Bench, watch, withoutPickers } from './support/bench';
import { exampleText, placesOf } from './support/paths';

interface Served {
  readonly address: string;
  readonly port: number;
  close(): Promise<void>;
}

interface Hosted {
  /** Where the edition lies on the host. */
  readonly folder: string;
  readonly address: string;
  /** Nothing answers there any more. */
  readonly gone: () => Promise<void>;
  readonly back: () => Promise<void>;
}

const test = base.extend<{ host: Hosted }>({
  host: async ({}, use) => {
    const root = mkdtempSync(path.join(tmpdir(), 'lidwright-web-'));
    const folder = path.join(root, 'tools/lid');
    execFileSync(process.execPath, ['scripts/build-web.mjs', '--out', folder], { stdio: 'pipe' });
    const { serveFolder } = (await import(path.resolve('scripts/lib/static-server.mjs'))) as {
      serveFolder(folder: string, port?: number): Promise<Served>;
    };
    let server = await serveFolder(root);
    const { port } = server;
    await use({
      folder,
      address: `${server.address}tools/lid/`,
      gone: () => server.close(),
      back: async () => void (server = await serveFolder(root, port)),
    });
    await server.close();
    rmSync(root, { recursive: true });
  },
});

/** The first visit, until everything is kept. */
async function visit(page: Page, { address }: Hosted): Promise<void> {
  await page.addInitScript(withoutPickers);
  await page.goto(address);
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    if (!navigator.serviceWorker.controller)
      await new Promise((done) => navigator.serviceWorker.addEventListener('controllerchange', done, { once: true }));
  });
}

const gripX = `points.${[...placesOf(exampleText('workboat-hatch')).keys()].indexOf('grip')}.at.0`;
/** Until the page has kept a draft. */
const kept = (page: Page): Promise<unknown> =>
  expect
    .poll(() =>
      page.evaluate(
        () =>
          new Promise<number>((done) => {
            const asked = indexedDB.open('lidwright');
            asked.onsuccess = () => {
              const all = asked.result.transaction('drafts').objectStore('drafts').count();
              all.onsuccess = () => (asked.result.close(), done(all.result));
            };
          }),
      ),
    )
    .toBe(1);

test('after one visit the job is done without a network, and is still there after a reload', async ({ page, host }) => {
  const errors = await watch(page);
  await visit(page, host);
  const control = await page.context().newCDPSession(page);
  const { errors: faults, data } = await control.send('Page.getAppManifest');
  expect([faults, JSON.parse(data!)]).toMatchObject([[], { name: 'Lidwright', display: 'standalone' }]);
  await host.gone();

  const bench = new Bench(page);
  await bench.openExample();
  await bench.workedOut();
  await bench.stage('Measure');
  await bench.type(gripX, '-777');
  await bench.stage('Prove');
  await bench.stage('Papers');
  const { bytes } = await bench.downloaded(bench.button('All papers in one PDF'));
  expect(bytes.subarray(0, 5).toString()).toBe('%PDF-');
  await kept(page);
  expect(await errors()).toEqual([]);

  page.on('dialog', (dialog) => void dialog.accept());
  await page.reload();
  await expect(page.locator('.recovery')).toContainText('was not saved');
  await bench.button('Bring it back').click();
  await bench.stage('Measure');
  await expect(bench.field(gripX)).toHaveValue('-777');
});

test('a newer edition waits until the old one’s windows are closed, and the work is there in it @deep', async ({
  context,
  page,
  host,
}) => {
  await visit(page, host);
  const bench = new Bench(page);
  await bench.openExample();
  await bench.stage('Measure');
  await bench.type(gripX, '-777');
  await kept(page);

  const worker = path.join(host.folder, 'service-worker.js');
  writeFileSync(worker, readFileSync(worker, 'utf8').replace(/EDITION = '\w+'/, "EDITION = 'newer'"));
  const editions = (): Promise<string[]> => page.evaluate(() => caches.keys());
  const [old] = await editions();
  await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    await registration!.update();
    while (!registration!.waiting) await new Promise((done) => setTimeout(done, 20));
  });
  expect((await editions()).sort()).toEqual([old, 'lidwright-newer'].sort());
  // the window goes on with its own files
  await expect(bench.field(gripX)).toHaveValue('-777');
  await bench.stage('Prove');
  await bench.stage('Measure');
  await expect(bench.field(gripX)).toHaveValue('-777');

  await page.close();
  const next = await context.newPage();
  await next.addInitScript(withoutPickers);
  await next.goto(host.address);
  await expect.poll(() => next.evaluate(() => caches.keys())).toEqual(['lidwright-newer']);
  await expect(next.locator('.recovery')).toContainText('was not saved');
  await new Bench(next).button('Bring it back').click();
  await new Bench(next).stage('Measure');
  await expect(new Bench(next).field(gripX)).toHaveValue('-777');
});

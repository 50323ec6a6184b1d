// Files: saved and opened again, written in place, lost and recovered; torn and impossible jobs.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { type BrowserContext, chromium, test as plain } from '@playwright/test';
import { readJobFile } from '../../core/job';
import { Bench, expect, test, watch, withoutPickers } from './support/bench';
import { exampleText, placesOf } from './support/paths';

const places = placesOf(exampleText('workboat-hatch'));
const index = (id: string): number => [...places.keys()].indexOf(id);
const gripX = `points.${index('grip')}.at.0`;

test('a saved copy opens again as the same job, and lies among the recent ones', async ({ bench }) => {
  const { page } = bench;
  const file = page.locator('.job-file');
  await expect(file).toContainText('example');
  await bench.stage('Measure');
  await bench.type(gripX, '-888 mm');
  await expect(file).toContainText('not saved');
  await expect(page).toHaveTitle(/^• /);
  const { bytes } = await bench.downloaded(bench.button('Save as'));
  expect(bytes.subarray(0, 2).toString()).toBe('PK'); // its photos came along
  await expect(file).toContainText('· saved');
  await expect(page).not.toHaveTitle(/^• /);
  await bench.type(gripX, '-880 mm');
  await expect(file).toContainText('not saved');
  await bench.undo.click();
  await expect(file).toContainText('· saved'); // back at what was saved
  const again = await bench.downloaded(bench.button('Save'));
  expect(again.bytes.equals(bytes)).toBe(true);
  expect(again.name).toBe('workboat-hatch.lidjob');

  // another job, then the saved file from the disk
  await page.locator('.open-menu > summary').click();
  await bench.button('Machine guard, opens down').click();
  await expect(page.locator('.job-title')).toContainText(/guard/i);
  await page.locator('.open-menu > summary').click();
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), bench.button('A job file…').click()]);
  await chooser.setFiles({ name: 'mine.lidjob', mimeType: '', buffer: bytes });
  await expect(file).toContainText('mine.lidjob · saved');
  await expect(bench.field(gripX)).toHaveValue('-888');
  expect((await bench.downloaded(bench.button('Save as'))).bytes.equals(bytes)).toBe(true);

  // recent, after the page is loaded anew
  await page.reload();
  await bench.openExample();
  await page.locator('.open-menu > summary').click();
  await page.getByTitle('a copy kept in this browser').first().click();
  await expect(file).toContainText('mine.lidjob · saved');
  await bench.stage('Measure');
  await expect(bench.field(gripX)).toHaveValue('-888');
});

/** Pickers that answer with files of the origin's own file system, as a browser's pickers answer with the disk's. */
const withOwnFiles = (): void => {
  const given = { save: 'first.lidjob', open: 'first.lidjob' };
  const handle = async (name: string): Promise<FileSystemFileHandle> =>
    (await navigator.storage.getDirectory()).getFileHandle(name, { create: true });
  Object.assign(window, {
    given,
    showSaveFilePicker: () => handle(given.save),
    showOpenFilePicker: async () => [await handle(given.open)],
  });
};
type Given = { given: { save: string; open: string } };

plain('where the browser can write in place it does: save, save as, open, recent', async ({ page }) => {
  const errors = await watch(page);
  await page.addInitScript(withOwnFiles);
  const bench = new Bench(page);
  await bench.open();
  const onDisk = async (name: string): Promise<number> => {
    // as text: a list of numbers takes seconds on its way
    const address = await page.evaluate(async (n) => {
      const file = await (await (await navigator.storage.getDirectory()).getFileHandle(n)).getFile();
      const reader = new FileReader();
      await new Promise((done) => ((reader.onload = done), reader.readAsDataURL(file)));
      return reader.result as string;
    }, name);
    return readJobFile(name, Uint8Array.from(Buffer.from(address.split(',')[1]!, 'base64'))).job.points[index('grip')]!
      .at[0] as number;
  };
  await bench.stage('Measure');
  await bench.type(gripX, '-870');
  await page.keyboard.press('Control+s');
  await expect(bench.notice).toHaveText(/Saved first\.lidjob/);
  expect(await onDisk('first.lidjob')).toBe(-870);

  await bench.type(gripX, '-860');
  await bench.button('Save').click();
  await expect(page.locator('.job-file')).toContainText('first.lidjob · saved');
  await expect.poll(() => onDisk('first.lidjob')).toBe(-860);

  await page.evaluate(() => ((window as unknown as Given).given.save = 'second.lidjob'));
  await bench.type(gripX, '-850');
  await page.keyboard.press('Control+Shift+S');
  await expect(page.locator('.job-file')).toContainText('second.lidjob · saved');
  expect(await onDisk('second.lidjob')).toBe(-850);
  expect(await onDisk('first.lidjob')).toBe(-860);

  await page.keyboard.press('Control+o');
  await expect(page.locator('.job-file')).toContainText('first.lidjob · saved');
  await expect(bench.field(gripX)).toHaveValue('-860');
  await page.reload();
  await bench.openExample();
  await page.locator('.open-menu > summary').click();
  await bench.button('second.lidjob').click();
  await expect(page.locator('.job-file')).toContainText('second.lidjob · saved');

  // a write that fails leaves the job unsaved and the file as it was
  await bench.stage('Measure');
  await bench.type(gripX, '-840');
  await page.evaluate(() => {
    FileSystemFileHandle.prototype.createWritable = () => Promise.reject(new Error('the disk is full'));
  });
  await page.keyboard.press('Control+s');
  await expect(bench.notice).toHaveText(/was not saved \(the disk is full\); the file is as it was/);
  await expect(page.locator('.job-file')).toContainText('not saved');
  expect(await onDisk('second.lidjob')).toBe(-850);
  expect(await errors()).toEqual([]);
});

plain('a job opened while another is being saved keeps its own name and place @deep', async ({ page }) => {
  await page.addInitScript(withOwnFiles);
  const bench = new Bench(page);
  await bench.open();
  await page.keyboard.press('Control+s');
  await expect(bench.notice).toHaveText(/Saved first\.lidjob/);
  await bench.stage('Measure');
  await bench.type(gripX, '-870');
  await page.evaluate(() => {
    const { createWritable } = FileSystemFileHandle.prototype;
    FileSystemFileHandle.prototype.createWritable = async function (...args) {
      await new Promise<void>((resolve) => Object.assign(window, { letGo: resolve }));
      return createWritable.apply(this, args);
    };
  });
  await page.keyboard.press('Control+s');
  await page.locator('.open-menu > summary').click();
  await bench.button('Machine guard, opens down').click();
  await page.evaluate(() => (window as unknown as { letGo: () => void }).letGo());
  await expect(page.locator('.job-title')).toContainText(/guard/i);
  await expect(page.locator('.job-file')).toContainText('machine-guard.lidjob · example');
  await page.evaluate(() => ((window as unknown as Given).given.open = 'first.lidjob'));
  await page.keyboard.press('Control+o');
  await expect(page.locator('.job-title')).toContainText(/Workboat/);
  await expect(bench.field(gripX)).toHaveValue('-870');
});

plain('two tabs on one file: the second to save is told, and overwrites nothing @deep', async ({ context }) => {
  await context.addInitScript(withOwnFiles);
  const tabs = [new Bench(await context.newPage()), new Bench(await context.newPage())] as const;
  for (const { page } of tabs) await page.goto('/');
  const [one, two] = tabs;
  await one.openExample();
  await one.page.keyboard.press('Control+s');
  await expect(one.notice).toHaveText(/Saved first\.lidjob/);
  await two.page.bringToFront();
  await two.openExample();
  await two.page.keyboard.press('Control+o');
  await expect(two.page.locator('.job-file')).toContainText('first.lidjob · saved');
  for (const [bench, x] of [
    [one, '-871'],
    [two, '-872'],
  ] as const) {
    await bench.page.bringToFront();
    await bench.stage('Measure');
    await bench.type(gripX, x);
    await bench.page.keyboard.press('Control+s');
  }
  await expect(two.notice).toHaveText(/changed by another program since you opened it/);
  await expect(two.page.locator('.job-file')).toContainText('not saved');
  // a good word later does not cover it
  await two.page.evaluate(() => ((window as unknown as Given).given.save = 'mine.lidjob'));
  await two.page.keyboard.press('Control+Shift+S');
  await expect(two.notice).toHaveText(/Saved mine\.lidjob/);
  await expect(two.page.locator('.notice.bad')).toHaveText(/changed by another program/);
});

test.describe('where the browser keeps nothing', () => {
  test.use({ ownPage: true });
  test('the person is told, and asked before the work is dropped @deep', async ({ bench }) => {
    const { page } = bench;
    await page.addInitScript(() =>
      Object.defineProperty(window, 'indexedDB', {
        get: () => {
          throw new DOMException('denied', 'SecurityError');
        },
      }),
    );
    await page.reload();
    await bench.openExample();
    await bench.stage('Measure');
    await bench.type(gripX, '-865');
    await expect(page.locator('.notice.bad').last()).toHaveText(/Unsaved work is not being kept aside/);
    await page.locator('.open-menu > summary').click();
    await bench.button('Machine guard, opens down').click();
    await expect(page.getByRole('dialog')).toContainText('Drop them?');
    await page.keyboard.press('Escape');
    await expect(page.getByRole('dialog')).toHaveCount(0);
    await expect(bench.field(gripX)).toHaveValue('-865');
    await page.locator('.open-menu > summary').click();
    await bench.button('Machine guard, opens down').click();
    await bench.button('Drop the changes').click();
    await expect(page.locator('.job-title')).toContainText(/guard/i);
  });
});

/** A browser with a profile of its own that outlives it. */
async function launch(profile: string): Promise<{ context: BrowserContext; bench: Bench }> {
  const { launchOptions, baseURL, viewport } = plain.info().project.use;
  const context = await chromium.launchPersistentContext(profile, { ...launchOptions, baseURL, viewport });
  const page = context.pages()[0] ?? (await context.newPage());
  await page.addInitScript(withoutPickers);
  const bench = new Bench(page);
  await bench.open();
  return { context, bench };
}

plain('unsaved work comes back after the browser is killed', async () => {
  const profile = mkdtempSync(path.join(tmpdir(), 'lidwright-profile-'));
  try {
    const first = await launch(profile);
    await first.bench.stage('Measure');
    await first.bench.type(gripX, '-777');
    // kept by itself a moment after the last change
    await expect
      .poll(() =>
        first.bench.page.evaluate(
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
    const dead = first.context.waitForEvent('close');
    const control = await first.context.newCDPSession(first.bench.page);
    await control.send('Browser.crash' as never).catch(() => undefined); // no farewell to the page, as a kill gives none
    await dead;

    const second = await launch(profile);
    const offer = second.bench.page.locator('.recovery');
    await expect(offer).toContainText('workboat-hatch.lidjob');
    await expect(offer).toContainText('was not saved');
    await second.bench.button('Bring it back').click();
    await expect(offer).toHaveCount(0);
    await expect(second.bench.page.locator('.job-file')).toContainText('not saved');
    await second.bench.stage('Measure');
    await expect(second.bench.field(gripX)).toHaveValue('-777');
    await second.bench.saveAs();
    await expect(second.bench.notice).toHaveText(/was downloaded/); // said last of all
    // saved: nothing is offered at the next start
    await second.bench.page.reload();
    await second.bench.openExample();
    await expect(offer).toHaveCount(0);
    await second.context.close();
  } finally {
    rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
  }
});

test('a torn or foreign file is told, and the open job stays @deep', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Measure');
  await bench.type(gripX, '-866');
  const whole = exampleText('trailer-locker');
  for (const [name, text, words] of [
    ['torn.lidjob', whole.slice(0, whole.length / 2), /Not done: .*(JSON|cut short|end)/i],
    ['notes.json', '{"shopping": ["rope"]}', /Not done: /],
    ['next.lidjob', whole.replace('"version": 1', '"version": 99'), /Not done: .*version/],
    ['nan.lidjob', whole.replace(/"kg": [\d.]+/, '"kg": "heavy"'), /Not done: .*masses/],
  ] as const) {
    await bench.drop('[data-view=side]', { name, bytes: Buffer.from(text) });
    await expect(bench.notice, name).toHaveText(words);
    await expect(page.locator('.job-title')).toContainText('Workboat');
    await expect(bench.field(gripX)).toHaveValue('-866');
    await expect(bench.undo).toBeEnabled();
    await bench.button('Put this message away').click();
  }
  // and a whole one opens
  await bench.drop('[data-view=side]', { name: 'locker.lidjob', bytes: Buffer.from(whole) });
  await expect(page.locator('.job-title')).toContainText(/locker/i);
});

test('a job that cannot be worked out opens with its trouble told, and typing mends it @deep', async ({ bench }) => {
  const { page } = bench;
  const job = JSON.parse(exampleText('workboat-hatch')) as { points: { id: string; at: number[] }[] };
  const b = job.points.find((p) => p.id === 'hingeB')!;
  b.at = [...job.points.find((p) => p.id === 'hingeA')!.at];
  await bench.drop('[data-view=side]', { name: 'flat.lidjob', bytes: Buffer.from(JSON.stringify(job)) });
  const trouble = page.locator('.trouble');
  await expect(trouble).toContainText('This can’t be worked out');
  await expect(trouble).toContainText(/hinge/i);
  await expect(page.locator('li[data-finding]')).toHaveCount(0);
  await expect(bench.view('side').locator('canvas').first()).toBeVisible();
  await bench.stage('Measure');
  await bench.type(`points.${index('hingeB')}.at.1`, '-458');
  await expect(trouble).toHaveCount(0);
  await expect(page.locator('li[data-finding]').first()).toBeVisible();
  expect((await bench.findings()).length).toBeGreaterThan(5);
});

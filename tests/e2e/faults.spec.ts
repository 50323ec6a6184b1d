// Stores and disks of a real browser that refuse: the person is told, nothing is called saved, nothing is offered twice.
import { test as plain } from '@playwright/test';
import { Bench, expect, test, watch, withoutPickers } from './support/bench';
import { exampleText, placesOf } from './support/paths';

const gripX = `points.${[...placesOf(exampleText('workboat-hatch')).keys()].indexOf('grip')}.at.0`;

test('a store without room is told, and told again when the work is kept after all @deep', async ({ bench }) => {
  const { page } = bench;
  await page.evaluate(() => {
    const { put } = IDBObjectStore.prototype;
    Object.assign(window, { room: false });
    IDBObjectStore.prototype.put = function (...args) {
      if (!(window as unknown as { room: boolean }).room) throw new DOMException('no room', 'QuotaExceededError');
      return put.apply(this, args);
    };
  });
  await bench.stage('Measure');
  await bench.type(gripX, '-865');
  const bad = page.locator('.notice.bad');
  await expect(bad).toHaveText(/Unsaved work is not being kept aside: The browser has no room left to keep this/);
  await page.evaluate(() => Object.assign(window, { room: true }));
  await expect(bench.notice).toHaveText(/Unsaved work is kept aside again/);
  await expect(bad).toHaveCount(0); // what is no longer true does not stay
});

plain(
  'a file that may not be written, or has no room, stays as it was, and the job stays unsaved',
  async ({ page }) => {
    const errors = await watch(page);
    await page.addInitScript(() => {
      const handle = async (): Promise<FileSystemFileHandle> =>
        (await navigator.storage.getDirectory()).getFileHandle('mine.lidjob', { create: true });
      Object.assign(window, { showSaveFilePicker: handle, showOpenFilePicker: async () => [await handle()] });
    });
    const bench = new Bench(page);
    await bench.open();
    await page.keyboard.press('Control+s');
    await expect(bench.notice).toHaveText(/Saved mine\.lidjob/);
    const content = (): Promise<number[]> =>
      page.evaluate(async () => {
        const file = await (await (await navigator.storage.getDirectory()).getFileHandle('mine.lidjob')).getFile();
        return [...new Uint8Array(await crypto.subtle.digest('SHA-256', await file.arrayBuffer()))];
      });
    const before = await content();
    await bench.stage('Measure');
    await bench.type(gripX, '-864');
    for (const [step, name, words] of [
      ['createWritable', 'NoModificationAllowedError', 'it may not be written'],
      ['close', 'QuotaExceededError', 'no room on the disk'],
    ] as const) {
      await page.evaluate(
        ([step, name, words]) => {
          const at = step === 'close' ? FileSystemWritableFileStream.prototype : FileSystemFileHandle.prototype;
          const kept = Reflect.get(at, step) as unknown;
          Reflect.set(at, step, () => Promise.reject(new DOMException(words, name)));
          Object.assign(window, { mend: () => Reflect.set(at, step, kept) });
        },
        [step, name, words] as const,
      );
      await page.keyboard.press('Control+s');
      await expect(bench.notice).toHaveText(
        new RegExp(`"mine\\.lidjob" was not saved \\(${words}\\); the file is as it was`),
      );
      await expect(page.locator('.job-file')).toContainText('not saved');
      expect(await content()).toEqual(before);
      await page.evaluate(() => (window as unknown as { mend: () => void }).mend());
    }
    await page.keyboard.press('Control+s');
    await expect(page.locator('.job-file')).toContainText('· saved');
    expect(await content()).not.toEqual(before);
    expect(await errors()).toEqual([]);
  },
);

plain(
  'what a tab works on is offered in no other window while it is open, and there when it is closed @deep',
  async ({ context }) => {
    await context.addInitScript(withoutPickers);
    const first = new Bench(await context.newPage());
    await first.open();
    await first.stage('Measure');
    await first.type(gripX, '-863');
    const states = (bench: Bench): Promise<number> =>
      bench.page.evaluate(
        () =>
          new Promise<number>((done) => {
            const asked = indexedDB.open('lidwright');
            asked.onsuccess = () => {
              const all = asked.result.transaction('drafts').objectStore('drafts').count();
              all.onsuccess = () => (asked.result.close(), done(all.result));
            };
          }),
      );
    await expect.poll(() => states(first)).toBe(1);
    const second = new Bench(await context.newPage());
    await second.open();
    await expect(second.page.locator('.recovery')).toHaveCount(0);
    await first.page.close();
    await second.page.reload();
    await expect(second.page.locator('.recovery')).toContainText('was not saved');
    await second.button('Bring it back').click();
    await second.stage('Measure');
    await expect(second.field(gripX)).toHaveValue('-863');
  },
);

// What goes wrong is told, stays told, and is tried anew: the server gone, the letters of the papers not to be had.
import { type Bench, expect, test } from './support/bench';

/** Asks for a paper while the server is gone, and again when it is back. */
async function exportTwice(bench: Bench, button: string, words: RegExp): Promise<void> {
  const { page } = bench;
  // a test before may have left the letters in the browser's cache, where they would be found without a server
  const control = await page.context().newCDPSession(page);
  await control.send('Network.enable');
  await control.send('Network.setCacheDisabled', { cacheDisabled: true });
  await page.context().setOffline(true);
  await bench.button(button).click();
  const bad = page.locator('.notice.bad');
  await expect(bad).toHaveText(words);
  // asked again, it is tried again: said twice
  await bench.button(button).click();
  await expect(bad).toHaveText(/\(2 times\)/);
  await page.context().setOffline(false);
  const { name, bytes } = await bench.downloaded(bench.button(button));
  expect(name).toMatch(/\.pdf$/);
  expect(bytes.subarray(0, 5).toString()).toBe('%PDF-');
  await expect(bench.notice).toHaveText(/was downloaded/);
  await expect(bad).toHaveText(words); // a good word covers no bad one
  await control.detach();
}

test.describe('with the server gone', () => {
  // the browser itself says on its console what it could not fetch
  test.use({ allowed: /Failed to load resource/ });

  test('an export says so, and goes when the server is back, the page left open @deep', async ({ bench }) => {
    await bench.stage('Papers');
    await exportTwice(bench, 'Export PDF', /Not done: "the letters of the papers" could not be fetched.*npm start/);
  });

  test('an example says so, and the open job stays @deep', async ({ bench }) => {
    const { page } = bench;
    await page.context().setOffline(true);
    await page.locator('.open-menu > summary').click();
    await bench.button('Machine guard, opens down').click();
    await expect(page.locator('.notice.bad')).toHaveText(/machine-guard\.lidjob" could not be fetched/);
    await expect(page.locator('.job-title')).toContainText('Workboat');
    await page.context().setOffline(false);
    await page.locator('.open-menu > summary').click();
    await bench.button('Machine guard, opens down').click();
    await expect(page.locator('.job-title')).toContainText(/guard/i);
  });

  test('letters that come as something else are told and not kept @deep', async ({ bench }) => {
    const { page } = bench;
    await page.route('**/*.ttf', (route) => route.fulfill({ status: 404, body: 'gone' }));
    await bench.stage('Papers');
    await bench.button('Export PDF').click();
    await expect(page.locator('.notice.bad')).toHaveText(/"the letters of the papers" is not among what was shipped/);
    await page.unroute('**/*.ttf');
    expect((await bench.downloaded(bench.button('Export PDF'))).bytes.subarray(0, 5).toString()).toBe('%PDF-');
  });
});

test('bad words stand above good ones, each until it is put away; more than three are counted @deep', async ({
  bench,
}) => {
  const { page } = bench;
  const bad = page.locator('.notice.bad');
  for (const k of [1, 2, 3, 4, 5]) {
    await bench.drop('[data-view=side]', { name: `torn${k}.lidjob`, bytes: Buffer.from('{"torn') });
    await expect(bad.last()).toHaveText(new RegExp(`torn${k}`));
  }
  await bench.saveAs();
  await bench.saveAs();
  await expect(page.locator('.notice:not(.bad)')).toHaveCount(1);
  await expect(bad).toHaveText([/torn3/, /torn4/, /torn5/]);
  await expect(page.locator('.notices-more')).toHaveText('2 more messages before these');
  await bad.nth(1).getByRole('button').click();
  await expect(bad).toHaveText([/torn2/, /torn3/, /torn5/]);
  for (let left = 4; left > 0; left--) {
    await expect(page.locator('.notices-more')).toHaveCount(left > 3 ? 1 : 0);
    await bad.first().getByRole('button').click();
  }
  await expect(bad).toHaveCount(0);
});

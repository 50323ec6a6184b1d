// The first way in: a handful of sizes, typed, make a whole live job. Own data: a bench box in a van.
import type { Locator, Page } from '@playwright/test';
import { readJob } from '../../core/job';
import { expect, test, withoutPickers, watch, Bench } from './support/bench';
import { slide } from './support/touch';

/** Counts what a hand does on the page: presses of a button, of keys, and digits typed (a sign or a point among them). */
const counting = async (page: Page): Promise<() => Promise<{ clicks: number; keys: number; typed: number }>> => {
  await page.addInitScript(() => {
    const count = { clicks: 0, keys: 0, typed: 0 };
    (window as unknown as { handCount: typeof count }).handCount = count;
    window.addEventListener('pointerdown', () => count.clicks++, true);
    window.addEventListener(
      'keydown',
      (e) => (/^[\d.,-]$/.test(e.key) && !e.ctrlKey ? count.typed++ : count.keys++),
      true,
    );
  });
  return () =>
    page.evaluate(
      () => (window as unknown as { handCount: { clicks: number; keys: number; typed: number } }).handCount,
    );
};

const openMore = 'What lies on it, how it lies, cold and slope, hand forces';

test('the start page shows nothing of another job; an example opens by one press', async ({ bench }) => {
  const { page } = bench;
  await page.reload();
  await expect(page.getByRole('heading', { name: 'A gas spring for your heavy lid' })).toBeVisible();
  for (const other of ['.findings', '.chart', '.job-title', '[data-view]'])
    await expect(page.locator(other)).toHaveCount(0);
  await expect(page.locator('.example .lid-shut')).toHaveCount(3);
  await bench.openExample();
  await expect(bench.undo).toBeDisabled();
  await bench.button('New').click();
  await page.getByRole('button', { name: /^Back to Workboat/ }).click();
  await expect(page.locator('.job-title')).toHaveText(/Workboat/);
});

/** The bench box, its table and what it asks, filled into the start page; `go` presses a thing or goes to a field. */
async function benchBox(page: Page, go: (what: Locator) => Promise<void>): Promise<void> {
  const type = async (field: Locator, text: string): Promise<void> => {
    await go(field);
    await page.keyboard.type(text);
  };
  for (const [label, text] of [
    ['Width, along hinges', '1100'],
    ['Depth, hinge to edge', '480'],
    ['Hinge above floor', '420'],
    ['Opens to', '85'],
    ['Mass, if it was weighed', '9.5'],
  ] as const)
    await type(page.getByLabel(label, { exact: true }), text);
  await go(page.getByText(openMore));
  await type(page.getByLabel('Lowest temperature', { exact: true }), '-5');
  await type(page.getByLabel('Most hand force to shut', { exact: true }), '60');
  await go(page.getByRole('button', { name: 'Add a thing on the lid' }));
  const thing = page.getByRole('group', { name: 'Thing 1 on the lid' });
  await type(thing.getByLabel('Name'), 'Table');
  await type(thing.getByLabel('Mass'), '6');
  await go(page.getByRole('button', { name: 'Make this job', exact: true }));
}

test('from the start page to a found place with mouse and keyboard, counted', async ({
  browser,
  baseURL,
  viewport,
}) => {
  const page = await (await browser.newContext({ baseURL: baseURL!, viewport })).newPage();
  const errors = await watch(page);
  await page.addInitScript(withoutPickers);
  const count = await counting(page);
  const bench = new Bench(page);
  await page.goto('/');
  await benchBox(page, (what) => what.click());
  await bench.ready();
  await bench.workedOut();

  const { clicks, keys, typed } = await count();
  expect(clicks).toBeLessThanOrEqual(25);
  expect(keys).toBeLessThanOrEqual(30);
  expect(typed).toBeLessThanOrEqual(60);
  const lines = (await bench.findings()).filter((f) => f.state !== 'holds');
  expect(lines.filter((f) => f.state === 'fails')).toEqual([]);
  expect(lines.filter((f) => !['drop-energy', 'one-sided'].includes(f.id)).length).toBeLessThanOrEqual(5);
  const job = readJob(await bench.saveAs());
  expect(job.masses.map((m) => [m.name, m.kg])).toEqual([
    ['Lid', 9.5],
    ['Table', 6],
  ]);
  expect(job.assumed).not.toContain('masses.lid.kg');

  // the strut stands over the zones that were made for it
  await bench.stage('Place');
  await expect(page.locator('[data-zone]')).toHaveCount(3);
  // what nobody has stated is marked until it is touched
  const friction = bench.field('hinge.frictionNm');
  await expect(friction).toHaveClass('assumed');
  await friction.focus();
  await page.keyboard.press('Enter');
  await expect(friction).not.toHaveClass('assumed');
  await bench.undo.click();
  await expect(friction).toHaveClass('assumed');
  expect(await errors()).toEqual([]);
  await page.context().close();
});

test('the same by keyboard alone, counted @deep', async ({ browser, baseURL, viewport }) => {
  const page = await (await browser.newContext({ baseURL: baseURL!, viewport })).newPage();
  await page.addInitScript(withoutPickers);
  const count = await counting(page);
  await page.goto('/');
  await page.getByLabel('Width, along hinges', { exact: true }).waitFor();
  await benchBox(page, async (what) => {
    // forward to it; a button or a folded part is pressed, a field is typed in
    const at = await what.elementHandle();
    for (let k = 0; k < 80; k++) {
      const there = await page.evaluate((e) => {
        const on = document.activeElement;
        return on !== null && (on === e || (on.tagName === 'SUMMARY' && on.contains(e)));
      }, at);
      if (there) break;
      await page.keyboard.press('Tab');
    }
    if (await page.evaluate(() => document.activeElement?.matches('button, summary')))
      await page.keyboard.press('Enter');
  });
  const bench = new Bench(page);
  await bench.ready();
  await bench.workedOut();
  const { clicks, keys, typed } = await count();
  console.log(`by keyboard alone: ${keys} presses, ${typed} digits`);
  expect(clicks).toBe(0);
  expect(keys).toBeLessThanOrEqual(160);
  expect((await bench.findings()).length).toBeGreaterThan(5);
  await page.context().close();
});

test('the same by touch, counted; then one finger drags a point, two pan and zoom', async ({
  browser,
  baseURL,
  viewport,
}) => {
  const page = await (await browser.newContext({ baseURL: baseURL!, viewport, hasTouch: true })).newPage();
  const errors = await watch(page);
  await page.addInitScript(withoutPickers);
  const count = await counting(page);
  const bench = new Bench(page);
  await page.goto('/');
  await benchBox(page, (what) => what.tap());
  await bench.ready();
  await bench.workedOut();
  const { clicks } = await count();
  console.log(`by touch: ${clicks} taps`);
  expect(clicks).toBeLessThanOrEqual(45);
  expect(clicks).toBeGreaterThan(10);

  await page.getByRole('navigation', { name: 'Stages of the job' }).getByRole('button', { name: 'Place' }).tap();
  await bench.fitted();
  const job = readJob(await bench.saveAs());
  const id = job.struts[0]!.base;
  const from = await bench.pointPx('side', id);
  await slide(page, [[from, [from[0] + 30, from[1] - 20]]]);
  const to = await bench.pointPx('side', id);
  expect(Math.hypot(to[0] - from[0] - 30, to[1] - from[1] + 20)).toBeLessThan(3);
  await expect(bench.undo).toHaveAttribute('title', /Undo: Move /);

  // two fingers that part by half again, about a middle that slides 40 px: the sheet does the same, and nothing else moves
  const box = (await bench.view('side').boundingBox())!;
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await slide(page, [
    [[x - 60, y], [x - 50, y]],
    [[x + 60, y], [x + 130, y]],
  ]); // prettier-ignore
  const now = await bench.pointPx('side', id);
  expect(Math.abs(now[0] - (x + 40 + 1.5 * (to[0] - x)))).toBeLessThan(3);
  expect(Math.abs(now[1] - (y + 1.5 * (to[1] - y)))).toBeLessThan(3);
  await bench.undo.tap();
  await expect(bench.undo).toBeDisabled();
  expect(await errors()).toEqual([]);
  await page.context().close();
});

test('by keys, and what can’t be is said beside the button @deep', async ({ bench }) => {
  const { page } = bench;
  await bench.button('New').click();
  await page.getByLabel('Width, along hinges').focus();
  const press = (key: string): Promise<void> => page.keyboard.press(key);
  for (const text of ['5 mm', '480', '30']) {
    await page.keyboard.type(text);
    await press('Tab');
  }
  await press('Enter'); // the list of materials stays shut: nothing is sent
  await page.getByLabel('Opens to').focus();
  await page.keyboard.type('400');
  await press('Enter');
  await expect(page.locator('.sizes [role=alert]')).toContainText(/width is 5 mm/);
  await expect(page.locator('.sizes [role=alert]')).toContainText(/opening angle is 400/);
  await page.keyboard.type('80');
  await page.getByLabel('Width, along hinges').focus();
  await page.keyboard.type('3 ft');
  await press('Enter');
  await bench.ready();
  await expect(page.locator('.job-title')).toHaveText('My lid');
});

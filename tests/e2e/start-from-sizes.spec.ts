// The first way in: a handful of sizes, typed, make a whole live job. Own data: a bench box in a van.
import type { Page } from '@playwright/test';
import { readJob } from '../../core/job';
import { expect, test, withoutPickers, watch, Bench } from './support/bench';

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
  const type = async (label: string, text: string): Promise<void> => {
    await page.getByLabel(label, { exact: true }).click();
    await page.keyboard.type(text);
  };
  await type('Width, along hinges', '1100');
  await type('Depth, hinge to edge', '480');
  await type('Hinge above floor', '420');
  await type('Opens to', '85');
  await type('Mass, if it was weighed', '9.5');
  await page.getByText(openMore).click();
  await type('Lowest temperature', '-5');
  await type('Most hand force to shut', '60');
  await bench.button('Add a thing on the lid').click();
  const thing = page.getByRole('group', { name: 'Thing 1 on the lid' });
  await thing.getByLabel('Name').click();
  await page.keyboard.type('Table');
  await thing.getByLabel('Mass').click();
  await page.keyboard.type('6');
  await bench.button('Make this job').click();
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

test('by keyboard alone, and what can’t be is said beside the button @deep', async ({ bench }) => {
  const { page } = bench;
  await bench.button('New').click();
  await page.getByLabel('Width, along hinges').focus();
  let presses = 0;
  const press = async (key: string): Promise<void> => {
    await page.keyboard.press(key);
    presses++;
  };
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
  expect(presses).toBeLessThanOrEqual(160);
  await expect(page.locator('.job-title')).toHaveText('My lid');
});

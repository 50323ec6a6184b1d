// What is typed and not entered: taken before a save, never dropped without a word; and what a typed text is read as.
import type { Dialog, Locator, Page } from '@playwright/test';
import { DEEP, sample } from '../support/tier';
import { type Bench, expect, test } from './support/bench';
import { exampleText, placesOf } from './support/paths';

const places = placesOf(exampleText('workboat-hatch'));
const gripX = `points.${[...places.keys()].indexOf('grip')}.at.0`;
const file = (page: Page): Locator => page.locator('.job-file');
const gripOf = (job: string): number =>
  (JSON.parse(job) as { points: { id: string; at: number[] }[] }).points.find((p) => p.id === 'grip')!.at[0]!;

test('a value that is typed and not entered goes into what is saved', async ({ bench }) => {
  await bench.saveAs(); // takes its photos along
  await bench.stage('Measure');
  await bench.field(gripX).fill('-88 cm');
  await expect(file(bench.page)).toContainText('not saved'); // while it is typed
  await expect(bench.page).toHaveTitle(/^• /);
  const [download] = await Promise.all([bench.page.waitForEvent('download'), bench.page.keyboard.press('Control+s')]);
  await download.delete();
  await expect(file(bench.page)).toContainText('· saved');
  await expect(bench.field(gripX)).toHaveValue('-880');
  await bench.field(gripX).fill('-870');
  const [as] = await Promise.all([bench.page.waitForEvent('download'), bench.page.keyboard.press('Control+Shift+S')]);
  await as.delete();
  await bench.field(gripX).fill('-860');
  expect(gripOf(await bench.saveAs())).toBe(-860);
  // a reading in the row for the next one, and a name
  await bench.stage('Weigh');
  const scale = bench.page.getByLabel('Scale, next reading', { exact: true });
  const pulls = await bench.page.getByLabel(/^Scale at /).count();
  if (!(await scale.isVisible())) await bench.page.getByText('Pull at the grip', { exact: true }).click();
  await bench.page.getByLabel('Angle, next reading').fill('12');
  await scale.fill('20');
  await Promise.all([bench.page.waitForEvent('download'), bench.page.keyboard.press('Control+s')]);
  await expect(bench.page.getByLabel(/^Scale at /)).toHaveCount(pulls + 1);
  await expect(file(bench.page)).toContainText('· saved');
});

test('what can’t be taken stops saving, leaving and opening, by the name of its field, until Escape', async ({
  bench,
}) => {
  const { page } = bench;
  await bench.saveAs();
  await bench.stage('Measure');
  const field = bench.field(gripX);
  let downloads = 0;
  page.on('download', () => downloads++);
  await field.fill('somewhere');
  for (const key of ['Control+s', 'Control+Shift+S', 'Control+s']) {
    await page.keyboard.press(key);
    await expect(bench.notice).toHaveText(/Not saved: “X” holds what can’t be taken as it stands.*press Escape in it/);
    await expect(file(page)).toContainText('not saved');
    await expect(field).toBeFocused();
  }
  await bench.button('Save').click();
  await expect(bench.notice).toHaveText(/Not saved: “X”.*\(4 times\)/);
  await bench.stage('Weigh');
  await expect(bench.notice).toHaveText(/Not left: “X”/);
  await expect(field).toHaveValue('somewhere');
  await page.locator('.open-menu > summary').click();
  await bench.button('Machine guard, opens down').click();
  await expect(bench.notice).toHaveText(/Not opened: “X”/);
  await expect(page.locator('.job-title')).toContainText('Workboat');
  expect(downloads).toBe(0);
  await field.press('Escape');
  await expect(field).toHaveValue(String(places.get('grip')![0]));
  await expect(file(page)).toContainText('· saved');
  await bench.stage('Weigh');
  await bench.stage('Measure');
  await field.fill('-861'); // the next stage takes it
  await bench.page.getByRole('button', { name: /^Weigh/ }).focus();
  await field.focus();
  await field.fill('-862');
  await bench.stage('Weigh');
  expect(gripOf(await bench.saveAs())).toBe(-862);
  // undo in a field whose text was taken undoes the job; in one that is typed in it is the text's own
  await bench.stage('Measure');
  await field.fill('-870');
  await field.press('Enter');
  await field.press('Control+z');
  await expect(field).toHaveValue('-862');
  await expect(bench.redo).toBeEnabled();
});

test('the page is not closed or loaded anew while something is typed, without asking @deep', async ({ bench }) => {
  const { page } = bench;
  await bench.saveAs();
  await bench.stage('Measure');
  const asked: string[] = [];
  const stay = (dialog: Dialog): void => {
    asked.push(dialog.type());
    void dialog.dismiss();
  };
  page.on('dialog', stay);
  for (const [text, stays] of [
    ['-864', '-864'],
    ['somewhere', 'somewhere'],
  ] as const) {
    await bench.field(gripX).click();
    await page.keyboard.press('Control+a');
    await page.keyboard.type(text);
    const before = asked.length;
    await page.evaluate(() => setTimeout(() => location.reload()));
    await expect.poll(() => asked.length).toBe(before + 1);
    await expect(bench.field(gripX)).toHaveValue(stays);
    await page.close({ runBeforeUnload: true });
    await expect.poll(() => asked.length).toBe(before + 2);
    await expect(bench.field(gripX)).toHaveValue(stays);
  }
  page.off('dialog', stay); // the page is the next test's too, which must be able to leave it
  expect(new Set(asked)).toEqual(new Set(['beforeunload']));
  await bench.field(gripX).press('Escape');
  await expect(bench.field(gripX)).toHaveValue('-864'); // entered when the page was asked to go
  await bench.saveAs();
});

test('a half-typed reading and a relation’s value hold a save too, whatever stage is shown @deep', async ({
  bench,
}) => {
  const { page } = bench;
  await bench.saveAs();
  await bench.stage('Measure');
  const value = page.locator('[data-entry] [data-cell=value]');
  await value.fill('812');
  await bench.stage('Place');
  await expect(bench.notice).toHaveText(/Not left: “the reading being typed, in Measure”/);
  await page.locator('[data-entry] [data-cell=p0]').press('Escape');
  await expect(value).toHaveValue('');
  await bench.stage('Place');
  await page.getByLabel('Add a condition').selectOption({ label: 'closed length of a strut' });
  await page.getByLabel('Value of the condition').fill('400');
  await page.keyboard.press('Control+s');
  await expect(bench.notice).toHaveText(/Not saved: “Value of the condition”/);
  await page.getByLabel('Value of the condition').press('Escape');
  await bench.saveAs();
});

/** Everything in the panel that could be moved, and where it is. */
const layout = (page: Page): Promise<string> =>
  page.evaluate(() =>
    [...document.querySelectorAll('.panel input, .panel label, .panel button, .panel p, .panel summary')]
      .map((e) => e.getBoundingClientRect())
      .map(({ x, y, width, height }) => [x, y, width, height].join())
      .join('\n'),
  );

/** Opens every fold of the panel. */
async function unfold(bench: Bench): Promise<void> {
  await bench.page.evaluate(async () => {
    for (let round = 0; round < 3; round++) {
      for (const fold of document.querySelectorAll<HTMLDetailsElement>('.panel details')) fold.open = true;
      await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
    }
  });
}

/** Fields for words; every other one takes a quantity. */
const WORDS = ['Title', 'Date', 'Name', 'Name of the given', 'Name of the variant', 'Material', 'Call it', 'Its name '];

test('every number field says what it reads while it is typed, and nothing moves @deep', async ({ bench }) => {
  const { page } = bench;
  const tried: string[] = [];
  const wordy = new Set<string>();
  for (const stage of sample(['Weigh', 'Strut', 'Measure', 'Place', 'Joints', 'Bracket', 'Prove'] as const)) {
    await bench.stage(stage);
    await unfold(bench);
    if (stage === 'Strut') await expect(page.getByRole('progressbar', { name: 'Search' })).toHaveCount(0); // searched
    if (stage === 'Measure') await bench.button('Add a given').click();
    if (stage === 'Prove') await expect(page.locator('.go')).toBeVisible(); // worked out
    if (stage === 'Place') await page.getByLabel('Add a condition').selectOption({ label: 'closed length of a strut' });
    await unfold(bench);
    for (const field of await page.locator('.panel input:not([type], [role=combobox])').all()) {
      if (!(await field.isVisible())) continue;
      const called = await field.evaluate(
        (e: HTMLInputElement) => e.getAttribute('aria-label') ?? e.labels?.[0]?.textContent ?? '',
      );
      const note = field.locator('xpath=following-sibling::*[contains(@class, "read-as")]');
      if ((await note.count()) === 0) {
        wordy.add(called);
        continue;
      }
      await field.focus();
      const before = await layout(page);
      const was = await field.inputValue();
      await field.fill('7/2');
      await expect(note, `${stage}: ${called}`).toHaveText(/^= 3\.5/);
      expect(await layout(page), `${stage}: ${called}`).toBe(before);
      expect((await field.getAttribute('aria-describedby'))!.split(/\s+/)).toContain(await note.getAttribute('id'));
      await expect(note).toHaveAttribute('aria-live', 'polite');
      await field.press('Escape');
      await expect(note, `${stage}: ${called}`).toHaveText('');
      expect(await field.inputValue(), `${stage}: ${called}`).toBe(was);
      tried.push(`${stage}: ${called}`);
    }
  }
  expect([...wordy].filter((called) => !WORDS.includes(called) && !/^Why .* need not be asked$/.test(called))).toEqual(
    [],
  );
  expect(tried.length).toBeGreaterThan(DEEP ? 60 : 8);
});

test('what was read is shown in the shown unit, and not for a plain number @deep', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Measure');
  const field = bench.field(gripX);
  const note = field.locator('xpath=following-sibling::*[contains(@class, "read-as")]');
  for (const [text, words] of [
    ['3-1/2 in', '= 88.9 mm'],
    ['5\'-3"', '= 1600.2 mm'],
    ['1 ft 6', '= 457.2 mm'],
    ['2*180 + 5 mm', '= 365 mm'],
    ['-29 cm', '= −290 mm'],
    ['0,125', '= 0.125 mm'],
    ['365', ''],
    ['-12.5', ''],
    ['3 +', ''],
    ['5 kg', ''],
  ] as const) {
    await field.fill(text);
    await expect(note, text).toHaveText(words);
  }
  await field.press('Escape');
  await page.getByLabel('Lengths shown in').selectOption('in');
  await field.fill('88.9 mm');
  await expect(note).toHaveText('= 3.5 in');
  await field.press('Escape');
});

// What may be called safe: load cases that are made, named and left out, loads beside weight, limits of letting go.
import type { Locator } from '@playwright/test';
import { type Bench, expect, test } from './support/bench';

/** A part of the panel by its title, unfolded. */
async function part(bench: Bench, title: string): Promise<Locator> {
  const found = bench.page
    .locator('details.part')
    .filter({ has: bench.page.locator('summary', { hasText: title }) })
    .first();
  if ((await found.getAttribute('open')) === null) await found.locator('summary').first().click();
  return found;
}

async function unfolded(item: Locator): Promise<Locator> {
  if ((await item.getAttribute('open')) === null) await item.locator('summary').first().click();
  return item;
}

const job = async (bench: Bench): Promise<Record<string, never> & { loadCases: Record<string, never>[] }> =>
  JSON.parse(await bench.saveAs()) as never;

test('the usual load cases are asked for, added beside what is there, and are one step', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Strut');
  const cases = await part(bench, 'Load cases');
  const items = cases.locator('details.item');
  await expect(items).toHaveCount(7);
  const before = (await job(bench)).loadCases;
  await bench.button('Make the usual ones').click();
  const form = page.getByRole('region', { name: 'The usual load cases' });
  await form.getByLabel('Coldest').fill('-15');
  await form.getByLabel('Coldest').press('Enter');
  await expect(form).toContainText('Beaufort 5');
  await form.getByLabel('Wind').fill('20');
  await form.getByLabel('Wind').press('Enter');
  await expect(form).toContainText('Beaufort 8');
  await form.getByLabel(/on a road vehicle/).check();
  await form.getByLabel(/on a boat/).check();
  await form.getByLabel('Rolls to either side').fill('12');
  await form.getByLabel('Rolls to either side').press('Enter');
  const offered = form.getByRole('list', { name: 'Load cases to add' });
  await expect(offered).toContainText('Cold, −15 °C, weak strut, 15 % lost with age');
  await expect(offered).toContainText('Left side up 12°, ');
  // the example has that one, under a name of its own
  await expect(offered.locator('li').first()).toHaveText('As used, 20 °C — there already');
  const count = (await offered.locator('li').count()) - 1;
  await form.getByRole('button', { name: `Add ${count} load cases` }).click();
  await expect(form).toHaveCount(0);
  await expect(items).toHaveCount(7 + count);
  await expect(items.locator('summary').first()).toHaveText('As used, 20 °C');
  const after = (await job(bench)).loadCases;
  expect(after.slice(0, 7)).toEqual(before);
  // pressed again, there is nothing to add but what other values ask
  await bench.button('Make the usual ones').click();
  await expect(form.getByLabel('Coldest')).toHaveValue('-20');
  await form.getByRole('button', { name: 'Cancel' }).click();
  await bench.undo.click();
  await expect(items).toHaveCount(7);
  // saving took the photos in: that is a step of its own
  expect(await bench.undoAll()).toBe(1);
});

test('a case is called after its values until it is named; what none asks is left out with a reason', async ({
  bench,
}) => {
  const { page } = bench;
  await bench.stage('Strut');
  const cases = await part(bench, 'Load cases');
  await bench.button('Add one').click();
  const mine = await unfolded(cases.locator('details.item').last());
  await expect(mine.locator('summary')).toHaveText('As used, 20 °C');
  await bench.type('loadCases.7.tempC', '-20');
  await expect(mine.locator('summary')).toHaveText('Cold, −20 °C');
  await bench.type('loadCases.7.tempC', '-5');
  await expect(mine.locator('summary')).toHaveText('Cold, −5 °C');
  await bench.type('loadCases.7.accelG.0', '-0.8');
  await expect(mine.locator('summary')).toHaveText('Cold, −5 °C, braking 0.8 g');
  await mine.getByRole('button', { name: 'Add wind' }).click();
  await bench.type('loadCases.7.wind.ms', '18');
  await expect(mine).toContainText('Beaufort 8');
  await mine.getByLabel('Wind blows').selectOption('along');
  await bench.type('loadCases.7.wind.towards.2', '0.5');
  await expect(mine.locator('summary')).toHaveText('Cold, −5 °C, braking 0.8 g, wind 18 m/s');
  expect((await job(bench)).loadCases[7]).toMatchObject({
    accelG: [-0.8, 0, 0],
    wind: { ms: 18, towards: [1, 0, 0.5] },
  });
  await bench.type('loadCases.7.name', 'Winter on the road');
  await bench.type('loadCases.7.tempC', '3');
  await expect(mine.locator('summary')).toHaveText('Winter on the road');
  await bench.type('loadCases.7.name', '');
  await expect(mine.locator('summary')).toHaveText(/^Cold, 3 °C/);
  await mine.getByRole('button', { name: 'Remove the wind' }).click();
  expect((await job(bench)).loadCases[7]).not.toHaveProperty('wind');
  expect(await bench.undoAll()).toBe(12 + 1);

  const asked = page.locator('li[data-finding=asked]');
  await expect(asked).toContainText('no load case for');
  await expect(asked).toContainText('wind');
  const reason = cases.getByLabel('Why wind need not be asked');
  await reason.fill('the hatch lies under the wheelhouse');
  await reason.press('Enter');
  await expect(cases).toContainText('Left out: wind (the hatch lies under the wheelhouse)');
  await expect(asked).toContainText('Left out on purpose: wind (the hatch lies under the wheelhouse)');
  expect((await job(bench))['dismissed']).toEqual([
    { finding: 'asked', about: 'wind', reason: 'the hatch lies under the wheelhouse' },
  ]);
  await cases.getByRole('button', { name: 'Ask again' }).click();
  await expect(reason).toBeVisible();
  expect(await bench.undoAll()).toBe(2 + 1);
});

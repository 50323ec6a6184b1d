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

test('the usual load cases are asked for, added beside what is there, and are one step @deep', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Strut');
  const cases = await part(bench, 'Load cases');
  const items = cases.locator('details.item:has(input[name^=loadCases])');
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
  await expect(offered).toContainText('Right side down 12°, swaying');
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

test('a case is called after its values until it is named; what none asks is left out with a reason @deep', async ({
  bench,
}) => {
  const { page } = bench;
  await bench.stage('Strut');
  const cases = await part(bench, 'Load cases');
  await bench.button('Add one').click();
  const mine = await unfolded(cases.locator('details.item:has(input[name^=loadCases])').last());
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
  const open = cases.locator('details.item', { hasText: 'Not asked: ' });
  await unfolded(open);
  const reason = cases.getByLabel('Why wind need not be asked');
  await reason.fill('the hatch lies under the wheelhouse');
  await reason.press('Enter');
  await expect(cases).toContainText('Left out: wind (the hatch lies under the wheelhouse)');
  await expect(asked).toContainText('Left out on purpose: wind (the hatch lies under the wheelhouse)');
  expect((await job(bench))['dismissed']).toEqual([
    { finding: 'asked', about: 'wind', reason: 'the hatch lies under the wheelhouse' },
  ]);
  await cases.getByRole('button', { name: 'Ask again' }).click();
  await unfolded(open);
  await expect(reason).toBeVisible();
  expect(await bench.undoAll()).toBe(2 + 1);
});

test('latch, seal, ratings, limits of letting go and pull-off forces are typed where they belong, one step each @deep', async ({
  bench,
}) => {
  const { page } = bench;
  const finding = (id: string): Locator => page.locator(`li[data-finding=${id}]`).first();
  await bench.findings();
  await bench.stage('Place');
  const keeps = await part(bench, 'Latch and seal');
  await keeps.getByRole('button', { name: 'Add a latch' }).click();
  await bench.type('latch.ratedN', '100');
  await expect(finding('latch-holds')).toHaveAttribute('data-state', 'fails');
  await bench.type('latch.ratedN', '900');
  await expect(finding('latch-holds')).toHaveAttribute('data-state', 'holds');
  const held = async (): Promise<number> =>
    Number(/holds (\d+) N/.exec((await finding('latch-holds').textContent())!)![1]);
  const without = await held();
  await keeps.getByRole('button', { name: 'Add a seal' }).click();
  await bench.type('seal.forceN', '120');
  await bench.type('seal.overMm', '10');
  // the seal pushes at the middle of the outline, about half as far from the hinge as the latch
  await expect.poll(held).toBeGreaterThan(without + 40);
  expect(await held()).toBeLessThan(without + 80);
  await bench.type('hinge.ratedN', '100');
  await expect(finding('hinge-load')).toHaveAttribute('data-state', 'fails');
  await page.getByLabel('A strut is meant to go over centre').check();
  await expect(finding('over-centre')).toHaveAttribute('data-state', 'watch');

  await bench.stage('Strut');
  await bench.type('limits.letGoJ', '50');
  await expect(finding('let-go-open')).toHaveAttribute('data-state', 'fails');
  await bench.type('limits.letGoJ', '');
  await expect(finding('let-go-open')).toHaveAttribute('data-state', 'watch');
  await bench.type('limits.letGoN', '500');
  await expect(finding('grip-at-shut')).toHaveAttribute('data-state', 'holds');

  await bench.stage('Joints');
  await expect(bench.field('struts.0.ends.base.separatingN')).not.toHaveValue('');
  await bench.type('struts.0.ends.base.separatingN', '250');
  const saved = await job(bench);
  expect(saved).toMatchObject({
    latch: { at: 'latch', ratedN: 900 },
    seal: { forceN: 120, overMm: 10 },
    hinge: { ratedN: 100, overCentre: true },
    limits: { letGoN: 500 },
  });
  expect(saved['limits']).not.toHaveProperty('letGoJ');
  expect(await bench.undoAll()).toBe(12 + 1);
});

test('a hinge that stands nearly upright is asked for from above', { tag: '@deep' }, async ({ bench }) => {
  const { page } = bench;
  const saved = JSON.parse(await bench.saveAs()) as { points: { id: string; at: number[] }[]; hinge: { b: string } };
  const upright = {
    ...saved,
    struts: [],
    brackets: [],
    points: saved.points.map((p) => (p.id === saved.hinge.b ? { ...p, at: [44, 452, 900] } : p)),
  };
  await bench.drop('body', { name: 'upright.lidjob', bytes: Buffer.from(JSON.stringify(upright)) });
  await expect(page.locator('li[data-finding=upright-hinge]')).toHaveAttribute('data-state', 'watch');
  await bench.stage('Place');
  const way = page.getByLabel('Opens, seen from above');
  const now = await way.inputValue();
  const other = now === 'clockwise' ? 'anticlockwise' : 'clockwise';
  await way.selectOption(other);
  await expect(way).toHaveValue(other);
  await expect(page.locator('li[data-finding=upright-hinge]')).toContainText(`turns ${other} seen from above`);
  await bench.undo.click();
  await expect(way).toHaveValue(now);
});

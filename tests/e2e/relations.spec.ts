// Relations: demanded, kept through drags and changes, refused by name.
import { sample } from '../support/tier';
import { AXES, type Bench, type View, expect, test } from './support/bench';
import { exampleText } from './support/paths';

type V = readonly [number, number, number];
interface Saved {
  readonly points: readonly { readonly id: string; readonly at: V }[];
  readonly relations?: readonly { readonly id: string; readonly kind: string; readonly valueMm?: unknown }[];
  readonly givens?: readonly { readonly expression: string }[];
}

/** The job as it would be saved now. */
const saved = async (bench: Bench): Promise<Saved> => JSON.parse(await bench.saveAs()) as Saved;
const at = (job: Saved, id: string): V => job.points.find((p) => p.id === id)!.at;
const minus = (a: V, b: V): V => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const long = (a: V): number => Math.hypot(...a);
/** How far p lies from the line through a and b, by the area of the parallelogram. */
function fromLine(p: V, a: V, b: V): number {
  const [u, v] = [minus(b, a), minus(p, a)];
  return Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / Math.hypot(...u);
}

/** Opens a job by the file field of the page, as a person does. */
async function openJob(bench: Bench, change: (job: Record<string, unknown>) => void): Promise<void> {
  const job = JSON.parse(exampleText('workboat-hatch')) as Record<string, unknown>;
  change(job);
  await bench.drop('[data-view=top]', {
    name: 'made.lidjob',
    type: 'application/json',
    bytes: Buffer.from(JSON.stringify(job)),
  });
  await expect(bench.page.locator('.job-file')).toContainText('made');
  await bench.fitted();
}

/** Puts a relation together in the panel; null leaves the value as it is now. */
async function demand(
  bench: Bench,
  kind: string,
  points: Readonly<Record<string, string>>,
  value: string | null = null,
): Promise<void> {
  const { page } = bench;
  await page.getByLabel('Add a condition').selectOption({ label: kind });
  const draft = page.locator('.relation-draft');
  for (const [role, id] of Object.entries(points)) await draft.getByLabel(role, { exact: true }).selectOption(id);
  if (value !== null) await draft.getByLabel('Value of the condition').fill(value);
  await draft.getByRole('button', { name: 'Add' }).click();
}

const items = (bench: Bench) => bench.page.locator('[data-relation]');

/** Demands a relation and waits until it is taken. */
async function taken(bench: Bench, ...args: Parameters<typeof demand> extends [Bench, ...infer R] ? R : never) {
  const before = await items(bench).count();
  await demand(bench, ...args);
  await expect(items(bench)).toHaveCount(before + 1);
  await expect(items(bench).nth(before)).toHaveAttribute('data-holds', 'yes');
}

test.beforeEach(async ({ bench }) => {
  await bench.stage('Place');
});

for (const view of sample<View>(['side', 'top', 'front']))
  test(`a pivot on a line and level with another is dragged in the ${view} view: both hold, one step`, async ({
    bench,
  }) => {
    await taken(bench, 'point on a line', { Point: 's1-lid', 'Line from': 'hingeB', 'Line to': 'grip' });
    await taken(bench, 'level with another point', { Point: 's1-lid', 'Level with': 'c1' });
    const before = await saved(bench);
    const sheet = await bench.sheet(view, new Map(before.points.map((p) => [p.id, p.at])));
    const seen = async () => ({ grip: await bench.pointPx(view, 'grip'), pivot: await bench.pointPx(view, 's1-lid') });
    const started = await seen();
    await bench.dragPoint(view, 's1-lid', view === 'front' ? 22 : -38, 12, { release: false });
    const moving = await seen();
    await bench.page.mouse.up();
    // measured points that went along are named
    await expect(bench.notice).toContainText('Lift handle by');
    const after = await saved(bench);
    expect(long(minus(at(after, 's1-lid'), at(before, 's1-lid')))).toBeGreaterThan(5);
    expect(fromLine(at(after, 's1-lid'), at(after, 'hingeB'), at(after, 'grip'))).toBeLessThan(1e-6);
    expect(Math.abs(at(after, 's1-lid')[2] - at(after, 'c1')[2])).toBeLessThan(1e-6);
    // what it takes along goes while it is dragged, not only at its end
    const still = AXES[view];
    const [was, is] = [at(before, 'grip'), at(after, 'grip')];
    expect(moving.grip[0] - started.grip[0]).toBeCloseTo(
      still.sign * (is[still.right] - was[still.right]) * sheet.pxPerMm,
      0,
    );
    expect(moving.pivot).toEqual(await bench.pointPx(view, 's1-lid'));
    for (const id of ['hingeA', 'hingeB']) expect(at(after, id)).toEqual(at(before, id));
    await expect(bench.undo).toHaveAttribute('title', /Undo: Move /);
    await bench.undo.click();
    expect((await saved(bench)).points).toEqual(before.points);
    await bench.redo.click();
    expect((await saved(bench)).points).toEqual(after.points);
  });

test(
  'Esc takes back all that a drag took along; with the lid open the relations of the shut lid hold',
  { tag: '@deep' },
  async ({ bench }) => {
    await taken(bench, 'level with another point', { Point: 's1-lid', 'Level with': 'grip' });
    await taken(bench, 'closed length of a strut', {}, '395');
    const before = await saved(bench);
    await bench.setAngle(45);
    await bench.dragPoint('side', 's1-lid', 30, -24, { release: false });
    await bench.page.keyboard.press('Escape');
    await bench.page.mouse.up();
    expect((await saved(bench)).points).toEqual(before.points);

    const from = await bench.pointPx('side', 's1-lid');
    await bench.dragPoint('side', 's1-lid', 30, -24);
    const to = await bench.pointPx('side', 's1-lid');
    // the pivot follows the pointer where it is seen, with the lid open …
    expect(to[0] - from[0]).toBeCloseTo(30, 0);
    expect(to[1] - from[1]).toBeCloseTo(-24, 0);
    // … and what is demanded of the shut lid holds, the others having gone along
    const after = await saved(bench);
    expect(Math.abs(at(after, 's1-lid')[2] - at(after, 'grip')[2])).toBeLessThan(1e-6);
    expect(Math.abs(long(minus(at(after, 's1-lid'), at(after, 's1-base'))) - 395)).toBeLessThan(1e-6);
    for (const id of ['grip', 's1-base']) expect(at(after, id)).not.toEqual(at(before, id));
  },
);

test('a contradicting relation is refused by the names of those it fights, and nothing changes @deep', async ({
  bench,
}) => {
  await taken(bench, 'stays where it is', { Point: 's1-base' });
  await taken(bench, 'distance between two points', { From: 's1-base', To: 's1-lid' }, '385');
  await taken(bench, 'level with another point', { Point: 'c1', 'Level with': 'c2' });
  const before = await bench.saveAs();
  const label = await bench.undo.getAttribute('title');
  await demand(bench, 'closed length of a strut', {}, '420');
  const refusal = bench.page.locator('[data-refusal]');
  await expect(refusal).toContainText("can't be met together with: strut, base end 385 mm from strut, lid end");
  await expect(refusal).not.toContainText('lid corner');
  await expect(refusal.getByRole('button', { name: /^Show:/ })).toHaveCount(1);
  expect(await bench.undo.getAttribute('title')).toBe(label);
  await expect(items(bench)).toHaveCount(3);
  // the button shows the one it fights
  await refusal.getByRole('button', { name: /^Show:/ }).click();
  await expect(items(bench).nth(1)).toHaveClass(/chosen/);
  // a value that is typed and not demanded holds every save
  const value = bench.page.getByLabel('Value of the condition');
  await bench.page.keyboard.press('Control+s');
  await expect(bench.notice).toHaveText(/Not saved: “Value of the condition”/);
  await value.press('Escape');
  expect(await bench.saveAs()).toBe(before);
  // without that one it can be met
  await items(bench)
    .nth(1)
    .getByRole('button', { name: /^Remove/ })
    .click();
  await value.fill('420');
  await bench.page.locator('.relation-draft').getByRole('button', { name: 'Add' }).click();
  await expect(items(bench)).toHaveCount(3);
  const after = await saved(bench);
  expect(Math.abs(long(minus(at(after, 's1-lid'), at(after, 's1-base'))) - 420)).toBeLessThan(1e-6);
});

test(
  'a pivot is placed by its closed length; points are picked by clicks; the value starts as it is',
  { tag: '@deep' },
  async ({ bench }) => {
    const { page } = bench;
    const before = await saved(bench);
    await taken(bench, 'stays where it is', { Point: 's1-base' });
    await taken(bench, 'closed length of a strut', {}, '310 mm');
    const job = await saved(bench);
    expect(Math.abs(long(minus(at(job, 's1-lid'), at(job, 's1-base'))) - 310)).toBeLessThan(1e-6);
    expect(at(job, 's1-base')).toEqual(at(before, 's1-base'));
    // no measured point had to move
    for (const id of ['hingeA', 'hingeB', 'c1', 'c3', 'grip', 'cg-panel']) expect(at(job, id)).toEqual(at(before, id));

    await page.getByLabel('Add a condition').selectOption({ label: 'distance between two points' });
    for (const [view, id] of [
      ['top', 'c2'],
      ['side', 'hingeB'],
    ] as const) {
      await bench.key(view, id).focus();
      const [x, y] = await bench.pointPx(view, id);
      if (view === 'top') await page.mouse.click(x, y);
      else await page.keyboard.press('Enter'); // the same by keyboard
    }
    const draft = page.locator('.relation-draft');
    await expect(draft.getByLabel('From', { exact: true })).toHaveValue('c2');
    await expect(draft.getByLabel('To', { exact: true })).toHaveValue('hingeB');
    const now = long(minus(at(job, 'c2'), at(job, 'hingeB')));
    await expect(draft.getByLabel('Value of the condition')).toHaveValue(String(Number(now.toFixed(3))));
    await draft.getByLabel('Where it holds').selectOption('top');
    const [a, b] = [at(job, 'c2'), at(job, 'hingeB')];
    await expect(draft.getByLabel('Value of the condition')).toHaveValue(
      String(Number(Math.hypot(a[0] - b[0], a[1] - b[1]).toFixed(3))),
    );
    await draft.getByRole('button', { name: 'Cancel' }).click();
    await expect(draft).toHaveCount(0);
  },
);

test('a given changed moves the points; one that can’t be is refused and the job stays @deep', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Measure');
  await page.getByText('Givens', { exact: true }).click();
  await bench.button('Add a given').click();
  const value = page.getByLabel('Value of given1');
  await value.fill('390 mm');
  await value.press('Enter');
  await taken(bench, 'stays where it is', { Point: 's1-base' });
  await taken(bench, 'closed length of a strut', {}, 'given1');
  await taken(bench, 'distance between two points', { From: 's1-lid', To: 'hingeB' });
  await taken(bench, 'stays where it is', { Point: 'hingeB' });
  const length = async (): Promise<number> => {
    const job = await saved(bench);
    return long(minus(at(job, 's1-lid'), at(job, 's1-base')));
  };
  expect(Math.abs((await length()) - 390)).toBeLessThan(1e-6);
  await expect(bench.notice).toContainText('was downloaded'); // what a save says last is not to cover what follows
  await value.fill('402 mm');
  await value.press('Enter');
  await expect(bench.notice).toContainText('To keep what must hold: Strut, lid end by');
  expect(await length()).toBeCloseTo(402, 6);
  await bench.undo.click();
  expect(Math.abs((await length()) - 390)).toBeLessThan(1e-6);

  const before = await saved(bench);
  await value.fill('2000 mm');
  await value.press('Enter');
  await expect(page.locator('[data-refusal]')).toContainText('closed length 2000 mm');
  await value.press('Escape');
  await expect(value).toHaveValue('390 mm');
  expect(await saved(bench)).toEqual(before);
  // as does a value that is typed into the relation itself
  await page.locator('[data-refusal]').getByRole('button', { name: 'Close', exact: true }).click();
  await bench.type('relations.1.valueMm', '5 m');
  await expect(page.locator('[data-refusal]')).toContainText("can't be met together with");
  await bench.field('relations.1.valueMm').press('Escape');
  expect(await saved(bench)).toEqual(before);
});

test(
  'a number typed and an arrow key: the others follow, or it is refused in words',
  { tag: '@deep' },
  async ({ bench }) => {
    await taken(bench, 'level with another point', { Point: 's1-lid', 'Level with': 'grip' });
    const start = await saved(bench);
    const z = `points.${start.points.findIndex((p) => p.id === 'grip')}.at.2`;
    await bench.type(z, '455');
    await expect(bench.field(z)).toHaveValue('455');
    let job = await saved(bench);
    expect([at(job, 'grip')[2], at(job, 's1-lid')[2]]).toEqual([455, 455]);
    await bench.key('side', 'grip').focus();
    await bench.page.keyboard.press('Shift+ArrowUp');
    await expect.poll(async () => at((job = await saved(bench)), 's1-lid')[2]).toBeCloseTo(465, 4);
    expect(Math.abs(at(job, 'grip')[2] - at(job, 's1-lid')[2])).toBeLessThan(1e-6);
    await taken(bench, 'stays where it is', { Point: 's1-lid' });
    await bench.type(z, '400');
    await expect(bench.page.locator('[data-refusal]')).toContainText('strut, lid end fixed');
    await bench.field(z).press('Escape');
    expect((await saved(bench)).points).toEqual(job.points);
    await bench.key('side', 's1-lid').focus();
    await bench.page.keyboard.press('ArrowUp');
    await expect(bench.notice).toContainText('The relations hold it');
    expect((await saved(bench)).points).toEqual(job.points);
  },
);

test(
  'a job whose relations don’t hold says which, and brings them to hold when asked',
  { tag: '@deep' },
  async ({ bench }) => {
    await openJob(bench, (job) => {
      job['relations'] = [
        { id: 'lev', kind: 'level-with', points: ['s1-lid', 'grip'] },
        { id: 'len', kind: 'closed-length', strut: 's1', valueMm: 410 },
        { id: 'plane', kind: 'on-plane', points: ['grip'], axis: 'z', valueMm: 428 },
      ];
    });
    await bench.stage('Place');
    const off = bench.page.locator('[data-off]');
    await expect(off).toContainText('2 relations do not hold');
    await expect(bench.page.locator('[data-relation=plane]')).toHaveAttribute('data-holds', 'yes');
    await expect(bench.undo).toBeDisabled();
    await off.getByRole('button', { name: 'Move the points so that they hold' }).click();
    await expect(off).toHaveCount(0);
    await expect(bench.undo).toHaveAttribute('title', /Move the points so that what must hold does/);
    const job = await saved(bench);
    expect(Math.abs(at(job, 's1-lid')[2] - 428)).toBeLessThan(1e-6);
    expect(Math.abs(long(minus(at(job, 's1-lid'), at(job, 's1-base'))) - 410)).toBeLessThan(1e-6);
    // and what is left to move is said of the chosen point
    await bench.key('side', 'grip').focus();
    await expect(bench.page.locator('[data-ways=grip]')).toContainText('can still move every way but up and down');
  },
);

test('a check that takes long can be stopped, and nothing has happened', { tag: '@deep' }, async ({ bench }) => {
  const { page } = bench;
  const before = await bench.saveAs();
  // the worker never comes
  await page.route('**/relation.worker*', () => undefined);
  await demand(bench, 'level with another point', { Point: 's1-lid', 'Level with': 'grip' });
  await expect(page.getByText(/checking against the other relations/)).toBeVisible();
  await page.getByRole('button', { name: 'Stop' }).click();
  await expect(page.getByText(/checking against the other relations/)).toHaveCount(0);
  expect(await bench.saveAs()).toBe(before);
  await page.unroute('**/relation.worker*');
  await page.locator('.relation-draft').getByRole('button', { name: 'Add' }).click();
  await expect(items(bench)).toHaveCount(1);
});

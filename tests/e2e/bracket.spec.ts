// The Bracket stage with the mouse: kinds, edges and holes dragged in the bracket's own view, what is kept, strength and its cures.
import type { Locator } from '@playwright/test';
import { ANGLE, jobWith } from '../core/strength/scene';
import { type Bench, expect, test } from './support/bench';

const FREE = {
  baseLegMm: 60,
  fixings: [
    { id: 'fix1', acrossMm: -18, fromEndMm: 22, diameterMm: 9 },
    { id: 'fix2', acrossMm: 18, fromEndMm: 22, diameterMm: 9 },
  ],
  keep: { mirrored: true, edgeMm: 14 },
};
/** One bolt under where the ball hangs when it is on the inside face. */
const SINGLE = {
  baseHole: { diameterMm: 9, spacingMm: 40, fromEndMm: 39, across: 1 },
  insideRadiusMm: 5,
  attach: { ...ANGLE.attach!, preloadN: 9000 },
};

async function openWith(bench: Bench, bracket: object): Promise<void> {
  const job = jobWith(bracket as never);
  await bench.drop('[data-view=side]', { name: 'test.lidjob', bytes: Buffer.from(JSON.stringify(job)) });
  await expect(bench.page.locator('.job-title')).toHaveText(job.title);
  await bench.stage('Bracket');
}

const handle = (bench: Bench, id: string): Locator => bench.page.locator(`[data-handle="${id}"]`);
const face = (bench: Bench, name: string): Promise<void> =>
  bench.page.getByRole('group', { name: 'Face of the bracket' }).getByRole('button', { name }).click();

async function middle(at: Locator): Promise<[number, number]> {
  const box = (await at.boundingBox())!;
  return [box.x + box.width / 2, box.y + box.height / 2];
}

async function drag(bench: Bench, id: string, dx: number, dy: number, how?: { release?: boolean }): Promise<void> {
  await bench.painted(); // the handles follow an undo with the next frame
  const [x, y] = await middle(handle(bench, id));
  await bench.dragPx([x, y], [x + dx, y + dy], how);
}

const value = async (bench: Bench, key: string): Promise<number> =>
  Number(await bench.field(`brackets.0.${key}`).inputValue());
const reserve = async (bench: Bench, check: string): Promise<number> =>
  Number(await bench.page.locator(`[data-check="${check}"]`).getAttribute('data-reserve'));
/** Pixels of the bracket's view over one mm, from two holes 36 mm apart. */
async function pxPerMm(bench: Bench): Promise<number> {
  const [a, b] = [await middle(handle(bench, 'fix1')), await middle(handle(bench, 'fix2'))];
  return (b[0] - a[0]) / 36;
}

test('holes and edges follow the mouse in half millimetres, mirrored and off the edges, one undo a drag', async ({
  bench,
}) => {
  await openWith(bench, FREE);
  await face(bench, 'Above');
  const k = await pxPerMm(bench);

  await drag(bench, 'fix1', 4 * k, 3.1 * k);
  expect(await value(bench, 'fixings.0.acrossMm')).toBeCloseTo(-14, 6);
  expect(await value(bench, 'fixings.1.acrossMm')).toBeCloseTo(14, 6);
  // down the sheet is away from the free end
  expect(await value(bench, 'fixings.0.fromEndMm')).toBeCloseTo(25, 6);
  expect(await value(bench, 'fixings.1.fromEndMm')).toBeCloseTo(25, 6);
  await bench.undo.click();
  expect(await value(bench, 'fixings.0.acrossMm')).toBe(-18);
  expect(await value(bench, 'fixings.1.fromEndMm')).toBe(22);
  await expect(bench.undo).toBeDisabled();

  // over the corner: it stops 14 mm from the side and from the end
  await drag(bench, 'fix2', 40 * k, -30 * k, { release: false });
  await expect(bench.page.locator('.bv-told')).toContainText('14.0 mm from the end');
  await expect(bench.page.locator('.bv-told')).toContainText('nearest edge 14.0 mm');
  await bench.page.mouse.up();
  expect(await value(bench, 'fixings.1.acrossMm')).toBe(35 - 14);
  expect(await value(bench, 'fixings.0.acrossMm')).toBe(14 - 35);
  expect(await value(bench, 'fixings.1.fromEndMm')).toBe(14);
  await bench.undo.click();

  // the free end by 7.3 mm: half millimetres; the holes stay on the mount
  await drag(bench, 'free-end', 0, -7.3 * k);
  expect(await value(bench, 'baseLegMm')).toBeCloseTo(67.5, 6);
  expect(await value(bench, 'fixings.0.fromEndMm')).toBeCloseTo(29.5, 6);
  await bench.undo.click();
  expect(await value(bench, 'baseLegMm')).toBe(60);

  // Esc goes back, and leaves nothing to undo
  await drag(bench, 'side', 5 * k, 0, { release: false });
  // a field follows a drag with the next frame
  await expect.poll(() => value(bench, 'baseWidthMm')).toBeCloseTo(80, 6);
  await bench.page.keyboard.press('Escape');
  await bench.page.mouse.up();
  expect(await value(bench, 'baseWidthMm')).toBe(70);
  await expect(bench.undo).toBeDisabled();

  // from the keyboard
  await handle(bench, 'fix2').focus();
  await bench.page.keyboard.press('ArrowRight');
  await bench.page.keyboard.press('Alt+ArrowRight');
  expect(await value(bench, 'fixings.1.acrossMm')).toBeCloseTo(19.1, 6);
  expect(await value(bench, 'fixings.0.acrossMm')).toBeCloseTo(-19.1, 6);
  expect(await bench.undoAll()).toBe(2);

  // the stud, in the front
  await face(bench, 'Front');
  const before = await value(bench, 'studHole.heightMm');
  await drag(bench, 'stud', 0, -20);
  expect(await value(bench, 'studHole.heightMm')).toBeGreaterThan(before);
  expect((await value(bench, 'studHole.heightMm')) % 0.5).toBeCloseTo(0, 6);
});

test('the bracket in space follows while it is dragged', { tag: '@deep' }, async ({ bench }) => {
  await openWith(bench, { uprightLegMm: 200, topWidthMm: 70 });
  await face(bench, 'Side');
  const space = bench.view('space');
  await bench.painted();
  const before = await space.screenshot();
  expect((await space.screenshot()).equals(before)).toBe(true);
  await drag(bench, 'upright-top', 0, 60, { release: false });
  await expect.poll(async () => (await space.screenshot()).equals(before)).toBe(false);
  await bench.page.keyboard.press('Escape');
  await bench.page.mouse.up();
  await expect.poll(async () => (await space.screenshot()).equals(before)).toBe(true);
});

test('a size held by a given is not dragged, and it is said', { tag: '@deep' }, async ({ bench }) => {
  const job = { ...jobWith({ baseLegMm: { given: 'leg' } as never }), givens: [{ name: 'leg', expression: '60 mm' }] };
  await bench.drop('[data-view=side]', { name: 'held.lidjob', bytes: Buffer.from(JSON.stringify(job)) });
  await bench.stage('Bracket');
  await face(bench, 'Above');
  await drag(bench, 'free-end', 0, -30, { release: false });
  await expect(bench.page.locator('.bv-refused')).toContainText('is held by the given "leg"');
  await bench.page.mouse.up();
  await expect(bench.notice).toContainText('is held by the given "leg"');
  await expect(bench.field('brackets.0.baseLegMm')).toHaveValue('leg');
  await expect(bench.undo).toBeDisabled();
});

test('every kind can be chosen, drawn in each of its faces, and left again @deep', async ({ bench }) => {
  await openWith(bench, {});
  for (const kind of ['flat-tab', 'gusset-angle', 'channel', 'wedge-plate', 'bent-angle']) {
    await bench.page.locator(`.kinds input[value="${kind}"]`).check();
    for (const name of ['Above', 'Side', 'Front', 'Flat']) {
      await face(bench, name);
      await expect(bench.page.locator('[data-view=bracket] path.bv-visible').first()).toBeVisible();
      await expect(bench.page.locator('.bv-refused')).toHaveCount(0);
      expect(await bench.page.locator('[data-handle]').count()).toBeGreaterThan(1);
    }
    const gap = bench.field('brackets.0.gapMm');
    await expect(gap).toHaveCount(kind === 'channel' ? 1 : 0);
    await expect(bench.field('brackets.0.wedge.tiltDeg')).toHaveCount(kind === 'wedge-plate' ? 1 : 0);
    await expect(bench.field('brackets.0.uprightLegMm')).toHaveCount(/tab|wedge/.test(kind) ? 0 : 1);
  }
});

test('the ball from the outside to the inside ends the spin about a single fixing @deep', async ({ bench }) => {
  await openWith(bench, SINGLE);
  const spin = bench.page.locator('li[data-finding="bracket-strength-spin"]');
  await expect(spin).toHaveAttribute('data-state', 'fails');
  expect(await reserve(bench, 'spin')).toBeLessThan(1);
  await bench.page.locator('select[name="brackets.0.ballSide"]').selectOption('inside');
  await expect(spin).toHaveCount(0);
  // the ball hangs right over its bolt: there is no torque at all
  await expect(bench.page.locator('[data-check=spin]')).toHaveAttribute('data-state', 'holds');
  await bench.undo.click();
  await expect(spin).toHaveAttribute('data-state', 'fails');
  // the same with one click where the strength table proposes it
  await bench.page
    .locator('.strength-list li', { has: bench.page.locator('[data-check=spin]') })
    .locator('.cure')
    .click();
  await expect(bench.page.locator('select[name="brackets.0.ballSide"]')).toHaveValue('inside');
  await expect(spin).toHaveCount(0);
});

test(
  'a second fixing by itself: added where there is room, strength reckoned anew',
  { tag: '@deep' },
  async ({ bench }) => {
    await openWith(bench, SINGLE);
    await expect(bench.page.locator('[data-check=spin]')).toHaveCount(1);
    await bench.button('Add a hole').click();
    await expect(bench.page.locator('fieldset.fixing')).toHaveCount(2);
    await face(bench, 'Above');
    await expect(handle(bench, 'fix2')).toHaveCount(1);
    // two hold it: nothing spins about one
    await expect(bench.page.locator('[data-check=spin]')).toHaveCount(0);
    await bench.button('Take fixing 2 away').click();
    await expect(bench.page.locator('fieldset.fixing')).toHaveCount(1);
    await expect(bench.button('Take fixing 1 away')).toBeDisabled();
  },
);

test(
  'thickness typed changes the reserves; each check says where it comes from',
  { tag: '@deep' },
  async ({ bench }) => {
    await openWith(bench, {});
    const upright = bench.page.locator('[data-check=upright]');
    await expect(upright).toHaveCount(1);
    const thin = await reserve(bench, 'upright');
    await bench.type('brackets.0.thicknessMm', '8 mm');
    await expect.poll(() => reserve(bench, 'upright')).not.toBe(thin);
    // bending of a plate goes with the square of its thickness; the tension and the shear beside it with the thickness
    const ratio = (await reserve(bench, 'upright')) / thin;
    expect(ratio).toBeGreaterThan(8 / 5);
    expect(ratio).toBeLessThan((8 / 5) ** 2 * 1.25);
    const rest = bench.page.locator('.strength-rest > summary').first();
    if (!(await upright.isVisible())) await rest.click();
    await upright.locator('summary').click();
    await expect(upright).toContainText('Formula');
    await expect(upright).toContainText('Capacity from');
    await expect(upright).toContainText(/ at [\d.]+°/);
  },
);

test(
  'a bracket for an end that has none: sized by the strut, on a mount of its own',
  { tag: '@deep' },
  async ({ bench }) => {
    await openWith(bench, {});
    await bench.button('Add one at the lid end').click();
    await expect(bench.page.locator('input[name="brackets.1.thicknessMm"]')).toBeVisible();
    const job = JSON.parse(await bench.saveAs()) as {
      struts: { ends: { lid: { mount?: unknown } } }[];
      brackets: { end: string; stud: { thread: string } }[];
    };
    expect(job.brackets[1]!.end).toBe('lid');
    expect(job.struts[0]!.ends.lid.mount).toBeTruthy();
    const subject = bench.page.locator('li[data-finding^="bracket"][data-state=fails][data-subject="b12"]');
    await expect(subject).toHaveCount(0);
  },
);

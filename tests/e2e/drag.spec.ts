// The views: what can be taken hold of, what a drag writes, and that the three stay in line.
import { sample } from '../support/tier';
import { AXES, type Bench, type View, expect, test } from './support/bench';
import { exampleText, placesOf } from './support/paths';
import { turnAbout } from './support/turn';
import { toMm } from './support/sheet-map';

const places = placesOf(exampleText('workboat-hatch'));
const index = (id: string): number => [...places.keys()].indexOf(id);
const VIEWS: readonly View[] = ['side', 'top', 'front'];

/** The typed coordinates of a point, mm. */
async function typed(bench: Bench, id: string): Promise<number[]> {
  const values: number[] = [];
  for (const k of [0, 1, 2]) values.push(Number(await bench.field(`points.${index(id)}.at.${k}`).inputValue()));
  return values;
}

test.beforeEach(async ({ bench }) => {
  await bench.stage('Measure');
  await bench.button('All views').click();
  await bench.fitted();
});

for (const view of sample(VIEWS))
  test(`every kind of point is dragged in the ${view} view, and only along the view`, async ({ bench }) => {
    const sheet = await bench.sheet(view, places);
    expect(sheet.worstPx).toBeLessThan(0.1);
    const { right, up, sign } = AXES[view];
    for (const id of ['hingeB', 's1-base', 's1-lid', 'cg-panel', 'grip', 'c3']) {
      const before = await typed(bench, id);
      expect(before).toEqual(places.get(id));
      await bench.dragPoint(view, id, 17, -11);
      const after = await typed(bench, id);
      const wanted = [...before];
      wanted[right]! += (sign * 17) / sheet.pxPerMm;
      wanted[up]! += 11 / sheet.pxPerMm;
      for (const k of [0, 1, 2]) expect(after[k]!, `${id} ${'XYZ'[k]}`).toBeCloseTo(wanted[k]!, 1);
      await expect(bench.undo).toHaveAttribute('title', /Undo: Move /);
      await bench.undo.click();
      expect(await typed(bench, id)).toEqual(before);
      await expect(bench.undo).toBeDisabled(); // the whole drag was one step
    }
  });

test('with the lid at 45° a lid point follows the pointer and its shut place is computed back @deep', async ({
  bench,
}) => {
  const shutSheet = await bench.sheet('side', places);
  await bench.setAngle(45);
  const [a, b] = [places.get('hingeA')!, places.get('hingeB')!];
  // The turn that raises the lid's edge, told by the screen and not by the program's sign rule.
  const seenEdge = toMm(shutSheet, await bench.pointPx('side', 'c3'));
  const way = [1, -1].find((s) => {
    const p = turnAbout(a, b, places.get('c3')!, (s * 45 * Math.PI) / 180);
    return Math.hypot(p[0]! - seenEdge[0], p[2]! - seenEdge[1]) < 0.5;
  });
  expect(way, 'the drawn lid stands where a turn by 45° puts it').toBeDefined();
  for (const [view, id] of [
    ['side', 's1-lid'],
    ['side', 'grip'],
    ['top', 'cg-canister'],
    ['front', 's1-lid'],
  ] as const) {
    const { right, up, sign } = AXES[view];
    const from = await bench.pointPx(view, id);
    await bench.dragPoint(view, id, -14, 9);
    const to = await bench.pointPx(view, id);
    expect(to[0]).toBeCloseTo(from[0] - 14, 0);
    expect(to[1]).toBeCloseTo(from[1] + 9, 0);
    const posed = turnAbout(a, b, places.get(id)!, (way! * Math.PI) / 4);
    posed[right]! += (sign * -14) / shutSheet.pxPerMm;
    posed[up]! -= 9 / shutSheet.pxPerMm;
    const shut = turnAbout(a, b, posed, (-way! * Math.PI) / 4);
    const now = await typed(bench, id);
    for (const k of [0, 1, 2]) expect(now[k]!, `${id} ${'XYZ'[k]}`).toBeCloseTo(shut[k]!, 1);
    expect(await bench.angle()).toBe(45);
    await bench.undo.click();
  }
});

test('Esc takes a drag back exactly, and leaves nothing to undo or redo @deep', async ({ bench }) => {
  const before = await typed(bench, 's1-lid');
  const text = await bench.findings();
  await bench.dragPoint('side', 's1-lid', 60, -40, { release: false });
  await expect.poll(() => typed(bench, 's1-lid')).not.toEqual(before);
  await bench.page.keyboard.press('Escape');
  expect(await typed(bench, 's1-lid')).toEqual(before);
  await bench.page.mouse.move(400, 400);
  await bench.page.mouse.up();
  expect(await typed(bench, 's1-lid')).toEqual(before);
  await expect(bench.undo).toBeDisabled();
  await expect(bench.redo).toBeDisabled();
  expect(await bench.findings()).toEqual(text);
  await expect(bench.page.locator('.job-file')).toContainText('example');
});

test('Esc in a later drag keeps the redo that was there', { tag: '@deep' }, async ({ bench }) => {
  await bench.dragPoint('side', 'grip', 20, 0);
  const moved = await typed(bench, 'grip');
  await bench.undo.click();
  await bench.dragPoint('side', 'cg-panel', 20, 0, { release: false });
  await bench.page.keyboard.press('Escape');
  await bench.page.mouse.up();
  await expect(bench.redo).toBeEnabled();
  await bench.redo.click();
  expect(await typed(bench, 'grip')).toEqual(moved);
});

test('arrow keys nudge by 1, with Shift 10, with Alt 0.1 mm along the view', async ({ bench }) => {
  const before = places.get('s1-base')!;
  for (const [view, keys, by] of [
    ['side', 'ArrowRight', [1, 0, 0]],
    ['side', 'Shift+ArrowUp', [0, 0, 10]],
    ['top', 'Alt+ArrowDown', [0, -0.1, 0]],
    ['front', 'ArrowLeft', [0, 1, 0]], // seen from behind, port lies left
  ] as const) {
    await bench.key(view, 's1-base').focus();
    await bench.page.keyboard.press(keys);
    await expect
      .poll(async () => (await typed(bench, 's1-base')).map((v, k) => Number((v - before[k]!).toFixed(4))))
      .toEqual([...by]);
    await bench.undo.click();
    await expect.poll(() => typed(bench, 's1-base')).toEqual(before);
  }
});

test('the wheel zooms at the pointer, and the views stay in line through zoom, pan, fit and fill', async ({
  bench,
}) => {
  const inLine = async (): Promise<void> => {
    for (const id of ['hingeA', 's1-lid', 'c3', 'grip']) {
      const [side, top, front] = [
        await bench.pointPx('side', id),
        await bench.pointPx('top', id),
        await bench.pointPx('front', id),
      ];
      expect(Math.abs(side[0] - top[0]), `${id}: side above top`).toBeLessThan(0.6);
      expect(Math.abs(side[1] - front[1]), `${id}: side beside front`).toBeLessThan(0.6);
    }
  };
  await inLine();
  const start = await bench.sheet('side', places);
  for (const view of VIEWS) {
    const box = (await bench.view(view).boundingBox())!;
    // whole pixels: a wheel event carries no parts of one
    const pointer = [Math.round(box.x + box.width * 0.7), Math.round(box.y + box.height * 0.4)] as const;
    const before = await bench.sheet(view, places);
    await bench.page.mouse.move(...pointer);
    await bench.page.mouse.wheel(0, -150);
    await expect.poll(async () => (await bench.sheet(view, places)).pxPerMm).toBeGreaterThan(before.pxPerMm * 1.1);
    const [was, is] = [toMm(before, pointer), toMm(await bench.sheet(view, places), pointer)];
    expect(Math.hypot(was[0] - is[0], was[1] - is[1])).toBeLessThan(0.05);
    await inLine();
  }
  const zoomed = await bench.sheet('side', places);
  const box = (await bench.view('side').boundingBox())!;
  await bench.page.mouse.move(box.x + box.width - 30, box.y + 60);
  await bench.page.mouse.down({ button: 'middle' });
  await bench.page.mouse.move(box.x + box.width - 75, box.y + 85, { steps: 5 });
  await bench.page.mouse.up({ button: 'middle' });
  await bench.painted();
  const panned = await bench.sheet('side', places);
  expect(panned.originPx[0] - zoomed.originPx[0]).toBeCloseTo(-45, 0);
  expect(panned.originPx[1] - zoomed.originPx[1]).toBeCloseTo(25, 0);
  await inLine();
  await expect(bench.undo).toBeDisabled(); // looking is no edit

  await bench.button('Show all').click();
  await bench.fitted();
  const back = await bench.sheet('side', places);
  expect(back.pxPerMm).toBeCloseTo(start.pxPerMm, 6);
  expect(back.originPx[0]).toBeCloseTo(start.originPx[0], 3);

  await bench.page.locator('.view-top').getByRole('button', { name: 'Enlarge' }).click();
  await expect(bench.view('side')).toHaveCount(0);
  await bench.fitted();
  expect((await bench.sheet('top', places)).pxPerMm).toBeGreaterThan(start.pxPerMm * 1.3);
  await bench.page.locator('.view-top').getByRole('button', { name: 'All views' }).click();
  await expect(bench.view('side')).toBeVisible();
  await bench.fitted();
  await inLine();
  expect((await bench.sheet('side', places)).pxPerMm).toBeCloseTo(start.pxPerMm, 6);
});

test('a coordinate that a given holds does not follow a drag', { tag: '@deep' }, async ({ bench }) => {
  await bench.page.getByText('Givens', { exact: true }).click();
  await bench.button('Add a given').click();
  const value = bench.page.getByLabel('Value of given1');
  await value.fill('-290 mm');
  await value.press('Enter');
  const x = `points.${index('s1-lid')}.at.0`;
  await bench.type(x, 'given1');
  await expect(bench.field(x)).toHaveValue('given1');
  const from = await bench.pointPx('side', 's1-lid');
  await bench.dragPoint('side', 's1-lid', 30, -20);
  const to = await bench.pointPx('side', 's1-lid');
  expect(to[0]).toBeCloseTo(from[0], 1);
  expect(to[1]).toBeCloseTo(from[1] - 20, 0);
  await expect(bench.field(x)).toHaveValue('given1');
  // …and follows the given
  await value.fill('-310 mm');
  await value.press('Enter');
  await expect.poll(async () => (await bench.pointPx('side', 's1-lid'))[0]).toBeLessThan(from[0] - 3);
});

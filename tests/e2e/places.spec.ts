// Where the strut may go: zones drawn over the photo, the works map under a drag, places found and fitted.
import type { Page } from '@playwright/test';
import { readJob } from '../../core/job';
import { type Bench, type View, expect, test } from './support/bench';
import { type At, toPx } from './support/sheet-map';

/** Clicks places of a view (mm on paper), the first of them again. */
async function clickRound(bench: Bench, view: View, corners: readonly At[]): Promise<void> {
  const job = readJob(await bench.saveAs());
  const fit = await bench.sheet(view, new Map(job.points.map((p) => [p.id, p.at as unknown as number[]])));
  for (const corner of [...corners, corners[0]!]) {
    const [x, y] = toPx(fit, corner);
    await bench.page.mouse.click(x, y);
    await bench.painted();
  }
}

const mapsDrawn = async (page: Page): Promise<number> => Number(await page.locator('[data-maps]').getAttribute('data-maps')); // prettier-ignore
const found = (page: Page) => page.locator('.places [data-place]');

/** Until the search is over. */
async function searched(bench: Bench): Promise<void> {
  await expect(found(bench.page).first()).toBeVisible();
  await expect(bench.button('Stop')).toHaveCount(0);
}

test('zones are drawn over the photo, the map follows a drag, a found place makes the job pass and is undone', async ({
  bench,
}) => {
  const { page } = bench;
  await bench.stage('Place');
  await expect(bench.button('Find places')).toBeDisabled();
  await bench.button('Draw a zone on the base').click();
  await clickRound(bench, 'side', [[-700, 60], [-60, 60], [-60, 320], [-700, 320]]); // prettier-ignore
  await expect(page.locator('[data-zone]')).toHaveCount(1);
  await bench.button('Draw one on the lid').click();
  await clickRound(bench, 'top', [[-800, -530], [-100, -530], [-100, -440], [-800, -440]]); // prettier-ignore
  await expect(page.locator('[data-zone]')).toHaveCount(2);
  const [base, lid] = readJob(await bench.saveAs()).zones!;
  expect([base!.on, lid!.on, base!.faces, lid!.faces]).toEqual(['base', 'lid', [0, 1, 0], [0, 0, -1]]);

  await bench.button('this strut').click();
  await expect.poll(() => mapsDrawn(page)).toBeGreaterThan(0);
  await bench.dragPoint('side', 's1-lid', 12, 8, { release: false });
  const before = await mapsDrawn(page);
  const at = await bench.pointPx('side', 's1-lid');
  await page.mouse.move(at[0] + 15, at[1] + 5, { steps: 5 });
  await expect.poll(() => mapsDrawn(page)).toBeGreaterThan(before);
  await page.keyboard.press('Escape');
  await page.mouse.up();
  await bench.button('none').click();

  const failing = await bench.failing();
  expect(failing.length).toBeGreaterThan(0);
  await page.getByLabel('One or a pair').selectOption('one');
  await bench.button('Find places').click();
  await searched(bench);
  await found(page).last().click();
  await expect(found(page).last()).toHaveAttribute('aria-selected', 'true');
  await found(page).first().click();
  await bench.button('Use place 1').click();
  expect(await bench.failing()).toEqual([]);
  await bench.undo.click();
  expect(await bench.failing()).toEqual(failing);
});

test('by keyboard: zones from surfaces, the map, a place, undo @deep', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Place');
  const press = async (name: string): Promise<void> => {
    await bench.button(name).focus();
    await page.keyboard.press('Enter');
  };
  await press('Whole inside of the lid');
  await press('Both side walls');
  await expect(page.locator('[data-zone]')).toHaveCount(3);
  await press('best of the list');
  await expect.poll(() => mapsDrawn(page)).toBeGreaterThan(0);
  await press('none');
  // a corner is nudged like any point
  const corner = bench.key('side', 'zone/zone2/0');
  await corner.focus();
  const at = readJob(await bench.saveAs()).zones![1]!.corners[0]![0] as number;
  await corner.focus();
  await page.keyboard.press('Shift+ArrowRight');
  expect(readJob(await bench.saveAs()).zones![1]!.corners[0]![0]).toBeCloseTo(at + 10, 1);
  await press('Find places');
  await searched(bench);
  await found(page).first().getByRole('button').focus();
  await page.keyboard.press('Tab');
  await press('Use place 2');
  expect(await bench.failing()).toEqual([]);
  await page.keyboard.press('Control+z');
  expect((await bench.failing()).length).toBeGreaterThan(0);
});

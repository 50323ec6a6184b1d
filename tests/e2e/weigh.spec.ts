// The Weigh stage: a scale's readings typed without the mouse, what they give against lids that are known, and into the job.
import type { Page } from '@playwright/test';
import { type Vec3, norm, sub, unit } from '../../core/space';
import { type Bench, expect, test } from './support/bench';
import { exampleText, placesOf } from './support/paths';
import { type KnownLid, type Weight, closedNm, edgesKg, openingOf, pullKg } from './support/weighing';

const places = placesOf(exampleText('workboat-hatch'));
const at = (id: string): Vec3 => places.get(id) as unknown as Vec3;
const lid = (weights: readonly Weight[]): KnownLid => ({
  hingeA: at('hingeA'),
  hingeB: at('hingeB'),
  grip: at('grip'),
  weights,
});
const PANEL: Weight = { kg: 31.5, at: at('cg-panel') };
const REST: readonly Weight[] = [
  { kg: 27.5, at: at('cg-canister') },
  { kg: 3.6, at: at('cg-cradle') },
];
/** The panel is heavier than the job says. */
const real = lid([{ kg: 38, at: [-462, 6, 388] }, ...REST]);
const ANGLES = [4, 18, 33, 49, 64];
/** Errors of a luggage scale, kg. */
const ERRORS = [0.12, -0.21, 0.08, 0.17, -0.1];

interface Saved {
  readonly masses: readonly { readonly id: string; readonly name: string; readonly kg: number; readonly at: string }[];
  readonly points: readonly { readonly id: string; readonly at: Vec3 }[];
  readonly weighings?: {
    readonly pulls?: {
      readonly of?: string;
      readonly readings: readonly { readonly angleDeg: number; readonly forceN: number }[];
    };
    readonly lifted?: { readonly readings: readonly unknown[] };
  };
}
const saved = async (bench: Bench): Promise<Saved> => JSON.parse(await bench.saveAs()) as Saved;

/** Opens a part and goes to its first empty field, by keyboard. */
async function goTo(page: Page, part: string, field: string): Promise<void> {
  const summary = page.locator('.panel summary', { hasText: part });
  await summary.focus();
  if (!(await summary.evaluate((s) => (s.parentElement as HTMLDetailsElement).open)))
    await page.keyboard.press('Enter');
  for (let i = 0; i < 40; i++) {
    await page.keyboard.press('Tab');
    const name = await page.evaluate(() => (document.activeElement as HTMLInputElement | null)?.name ?? '');
    if (name === field) return;
  }
  throw new Error(`Tab never came to ${field}`);
}

/** Types a row, Enter after each. */
async function typeRow(page: Page, texts: readonly string[]): Promise<void> {
  for (const text of texts) {
    if (text) await page.keyboard.type(text);
    await page.keyboard.press('Enter');
  }
}

const row = (page: Page, table: string, head: string) =>
  page
    .getByRole('table', { name: table })
    .locator('tr', { has: page.getByRole('rowheader', { name: head, exact: true }) });

test('pulls at five angles, typed by keyboard alone, correct the panel; undo takes it back', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Weigh');
  const before = await bench.findings();
  await goTo(page, 'Pull at the grip', 'pulls.new.0');
  for (const [i, angle] of ANGLES.entries())
    await typeRow(page, [String(angle), (pullKg(real, angle) + ERRORS[i]!).toFixed(2)]);
  await expect(page.locator('input[name="pulls.new.0"]')).toBeFocused();
  await expect(page.locator('.entries tbody tr').nth(4)).toContainText(/[+−]?\d/);

  // the moment found, against the known lid
  const words = (await row(page, 'Moment of the weight about the hinge', 'Lid closed')
    .locator('td')
    .first()
    .textContent())!;
  const [, found, sigma] = /([\d.]+) ± ([\d.]+)/.exec(words)!.map(Number) as [number, number, number];
  expect(sigma).toBeGreaterThan(0);
  expect(sigma).toBeLessThan(8);
  expect(Math.abs(found - closedNm(real))).toBeLessThan(2 * sigma);
  await expect(page.locator('.panel')).toContainText('not the mass itself');

  // how far out the panel's centre lies is kept, so its mass is found
  const mass = (await row(page, 'What was weighed: Hatch panel', 'Mass').locator('td').nth(1).textContent())!;
  const [, kg, sigmaKg] = /([\d.]+) ± ([\d.]+)/.exec(mass)!.map(Number) as [number, number, number];
  expect(Math.abs(kg - 38)).toBeLessThan(2 * sigmaKg);

  const read = await saved(bench);
  expect(read.weighings!.pulls!.of).toBe('panel');
  expect(read.weighings!.pulls!.readings.map((r) => r.angleDeg)).toEqual(ANGLES);
  read.weighings!.pulls!.readings.forEach((r, i) =>
    expect(r.forceN / 9.80665).toBeCloseTo(pullKg(real, ANGLES[i]!) + ERRORS[i]!, 2),
  );
  expect(read.masses).toEqual((JSON.parse(exampleText('workboat-hatch')) as Saved).masses);

  await bench.button('Correct Hatch panel').press('Enter');
  const after = await saved(bench);
  expect(after.masses.find((m) => m.id === 'panel')!.kg).toBeCloseTo(kg, 1);
  expect(after.masses.filter((m) => m.id !== 'panel')).toEqual(read.masses.filter((m) => m.id !== 'panel'));
  const heavier = await bench.findings();
  expect(heavier.map((f) => f.text)).not.toEqual(before.map((f) => f.text));
  await bench.undo.click();
  expect(await saved(bench)).toEqual(read);
  expect(await bench.findings()).toEqual(before);
});

test('a mass that is added later leaves what was weighed before where it was @deep', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Weigh');
  await goTo(page, 'Pull at the grip', 'pulls.new.0');
  for (const angle of ANGLES) await typeRow(page, [String(angle), pullKg(real, angle).toFixed(2)]);
  const weighed = page.getByRole('table', { name: 'What was weighed: Hatch panel' });
  await expect(weighed).toBeVisible();
  const words = await weighed.innerText();
  const panel = async (): Promise<unknown> => {
    await bench.button('Correct Hatch panel').press('Enter');
    const job = await saved(bench);
    await bench.undo.click();
    const mass = job.masses.find((m) => m.id === 'panel')!;
    return [mass.kg, job.points.find((p) => p.id === mass.at)!.at];
  };
  const before = await panel();
  await bench.button('Add a mass').click();
  expect((await saved(bench)).masses).toHaveLength(4);
  expect(await weighed.innerText()).toBe(words);
  expect(await panel()).toEqual(before);
});

test(
  'a blunder is named and can be left out; bad entries say why; a list is pasted whole or not at all',
  { tag: '@deep' },
  async ({ bench }) => {
    const { page } = bench;
    await bench.stage('Weigh');
    await goTo(page, 'Pull at the grip', 'pulls.new.0');
    await page.evaluate(
      (text) => {
        const transfer = new DataTransfer();
        transfer.setData('text', text);
        document.activeElement!.dispatchEvent(
          new ClipboardEvent('paste', { clipboardData: transfer, bubbles: true, cancelable: true }),
        );
      },
      [
        'angle;scale',
        ...ANGLES.map(
          (a, i) => `${a};${(pullKg(real, a) + ERRORS[i]! + (i === 2 ? 4 : 0)).toFixed(2).replace('.', ',')}`,
        ),
      ].join('\n'),
    );
    const rows = page.locator('table[aria-label="Pulls at the grip"] tbody tr');
    await expect(rows).toHaveCount(6);
    await expect(page.getByText(/The pull at 33° reads [34]\.\d\d kg too much/)).toBeVisible();
    await page.getByLabel('Use the pull at 33°').press('Space');
    await expect(page.getByText(/too much against the rest/)).toHaveCount(0);

    await page.locator('input[name="pulls.new.0"]').focus();
    await typeRow(page, ['20', '12 mm']);
    await expect(page.locator('.wrong[role=alert]')).toContainText('12 mm');
    await expect(rows).toHaveCount(6);
    await page.keyboard.press('Escape');
    await expect(page.locator('.wrong[role=alert]')).toHaveCount(0);

    // up to a reading that is there, and Enter goes on to the one below
    await page.locator('input[name="pulls.new.0"]').focus();
    await page.keyboard.press('ArrowUp');
    await page.keyboard.type('66');
    await page.keyboard.press('Enter');
    await expect(page.locator('input[name="pulls.new.0"]')).toBeFocused();
    await expect(page.locator('input[name="weighings.pulls.readings.4.angleDeg"]')).toHaveValue('66');
    expect(await bench.undoAll()).toBe(3);
    await expect(rows).toHaveCount(1);
  },
);

test('a lid lifted off, weighed flat, tilted and at its side edges, gives the box on it that nobody had listed @deep', async ({
  bench,
}) => {
  const { page } = bench;
  const box: Weight = { kg: 9, at: [-720, -180, 440] };
  const loaded = lid([PANEL, ...REST, box]);
  const along = openingOf(loaded);
  const arm = sub(at('grip'), at('hingeA'));
  const k = arm[0] * along[0] + arm[1] * along[1] + arm[2] * along[2];
  const outwards = unit([arm[0] - k * along[0], arm[1] - k * along[1], arm[2] - k * along[2]]);
  const kg = (pair: [number, number]): string[] => pair.map((v) => v.toFixed(2));

  await bench.stage('Weigh');
  await goTo(page, 'Lift it off and weigh it', 'lifted.new.0');
  for (const tilt of [0, 30])
    await typeRow(page, [String(tilt), ...kg(edgesKg(loaded, at('hingeA'), at('grip'), along, tilt))]);
  await page.locator('.panel details.part', { hasText: 'Lift it off' }).getByLabel('To find').selectOption('');
  await bench.button('Weigh at the side edges too').press('Enter');
  const sides = page.locator('table[aria-label="Weighings of the lifted lid"]').nth(1);
  const [first, second] = await page
    .getByLabel(/edge at$/)
    .evaluateAll((all) => (all as HTMLSelectElement[]).slice(2).map((s) => s.value));
  await sides.locator('input[name="lifted.new.0"]').focus();
  await typeRow(page, ['0', ...kg(edgesKg(loaded, at(first!), at(second!), outwards, 0))]);
  await expect(page.locator('svg.stand')).toHaveCount(3);
  await expect(page.locator('.panel .sum', { hasText: 'on the scales' })).toContainText(/71\.6 ±|71\.5 ±|71\.7 ±/);

  await page.getByLabel('Call it').fill('Tackle box');
  const before = await saved(bench);
  await bench.button('Add as a mass item').press('Enter');
  const after = await saved(bench);
  const added = after.masses.at(-1)!;
  expect(after.masses).toHaveLength(before.masses.length + 1);
  expect(added.name).toBe('Tackle box');
  expect(Math.abs(added.kg - 9)).toBeLessThan(0.05);
  const place = after.points.find((p) => p.id === added.at)!.at;
  expect(norm(sub(place, box.at))).toBeLessThan(15);
  // weighing again would correct it, not add it twice
  await expect(bench.button('Correct Tackle box')).toBeVisible();
  await bench.undo.click();
  expect(await saved(bench)).toEqual(before);
});

// Shown units: they change what is seen, never what is saved. And what may be typed.
import { expect, test } from './support/bench';
import { exampleText, placesOf } from './support/paths';

const index = (id: string): number => [...placesOf(exampleText('workboat-hatch')).keys()].indexOf(id);

test('switching units changes every shown number and never the file @deep', async ({ bench }) => {
  const { page } = bench;
  const before = await bench.saveAs();
  await bench.stage('Strut');
  const length = bench.field('struts.0.spec.extendedMm');
  const force = bench.field('struts.0.spec.forceN');
  const hand = page.locator('li[data-finding=hand-closing] .finding-body').first();
  await page.locator('summary', { hasText: 'As used, 20 °C' }).click();
  const temperature = bench.field('loadCases.0.tempC');
  const seen: string[] = [];
  for (const [unit, value, sign] of [
    ['cm', '62', 'cm'],
    ['in', '24.4094', 'in'],
    ['mm', '620', 'mm'],
  ] as const) {
    await page.getByLabel('Lengths shown in').selectOption(unit);
    await expect(length).toHaveValue(value);
    await expect(length.locator('xpath=following-sibling::span[@class="unit"]')).toHaveText(sign);
    expect(await bench.saveAs()).toBe(before);
  }
  for (const [unit, value, sign] of [
    ['kgf', 900 / 9.80665, 'kgf'],
    ['lbf', 900 / 4.4482216152605, 'lbf'],
    ['N', 900, 'N'],
  ] as const) {
    await page.getByLabel('Forces shown in').selectOption(unit);
    await expect.poll(async () => Number(await force.inputValue())).toBeCloseTo(value, 3);
    await expect(hand).toContainText(` ${sign}`);
    await bench.workedOut();
    seen.push((await hand.textContent())!);
    expect((await bench.saveAs()) === before).toBe(true);
  }
  expect(new Set(seen).size).toBe(3);
  await page.getByLabel('Temperatures shown in').selectOption('degF');
  await expect(temperature).toHaveValue('68');
  expect((await bench.saveAs()) === before).toBe(true);

  // a number typed bare is in the shown unit; the file keeps mm and °C
  await temperature.fill('50');
  await temperature.press('Enter');
  await page.getByLabel('Lengths shown in').selectOption('in');
  await bench.type('struts.0.spec.extendedMm', '25');
  const saved = JSON.parse(await bench.saveAs()) as {
    struts: { spec: { extendedMm: number } }[];
    loadCases: { tempC: number }[];
  };
  expect(saved.struts[0]!.spec.extendedMm).toBeCloseTo(635, 9);
  expect(saved.loadCases[0]!.tempC).toBeCloseTo(10, 9);
});

test(
  'fractions, other units and sums may be typed; nonsense is told beside the field',
  { tag: '@deep' },
  async ({ bench }) => {
    await bench.stage('Measure');
    const x = `points.${index('s1-lid')}.at.0`;
    for (const [typed, mm] of [
      ['15 3/4 in', 400.05],
      ['2*180 + 5 mm', 365],
      ['-290 mm', -290],
      ['-29 cm', -290],
      ['1 ft', 304.8],
    ] as const) {
      await bench.type(x, typed);
      await expect.poll(async () => Number(await bench.field(x).inputValue()), { message: typed }).toBeCloseTo(mm, 4);
      await expect(bench.page.locator('.wrong')).toHaveCount(0);
    }
    await bench.stage('Strut');
    const force = 'struts.0.spec.forceN';
    await bench.type(force, '50 kgf');
    await expect.poll(async () => Number(await bench.field(force).inputValue())).toBeCloseTo(490.3325, 4);

    const before = await bench.findings();
    for (const nonsense of ['strong', '12 furlongs', '3 +', '5 mm', '1/0', '7 N extra', '«»']) {
      await bench.type(force, nonsense);
      const field = bench.page.locator('.field').filter({ has: bench.field(force) });
      const wrong = field.locator('.wrong');
      await expect(wrong, nonsense).toBeVisible();
      expect((await wrong.textContent())!.length).toBeGreaterThan(15);
      await expect(bench.field(force)).toHaveAttribute('aria-invalid', 'true');
      await expect(bench.field(force)).toHaveValue(nonsense); // left to be mended
      await bench.field(force).press('Escape');
      await expect(wrong).toHaveCount(0);
      await expect.poll(async () => Number(await bench.field(force).inputValue())).toBeCloseTo(490.3325, 4);
    }
    expect(await bench.findings()).toEqual(before);
    // a length that no strut can have reaches the job and is told as a finding or an error, never a crash
    await bench.type('struts.0.spec.strokeMm', '0 mm');
    await expect(
      bench.page.locator('.trouble, .notice.bad, li[data-state=fails], .field .wrong').first(),
    ).toBeVisible();
  },
);

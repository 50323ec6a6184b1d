// For everybody: contrast and labels, the keyboard alone, small and large screens, no WebGL, a strict content policy.
import { readFileSync, writeFileSync } from 'node:fs';
import AxeBuilder from '@axe-core/playwright';
import { chromium, type Page, test as plain } from '@playwright/test';
import { sample } from '../support/tier';
import { Bench, type Stage, expect, test, watch, withoutPickers } from './support/bench';

/** What is read, stage by stage; LIDWRIGHT_WRITE=1 writes it anew, to be looked over. */
const ORDER = 'tests/fixtures/reading-order.json';
const STAGES: readonly Stage[] = ['Measure', 'Weigh', 'Place', 'Strut', 'Joints', 'Bracket', 'Papers', 'Prove'];

/**
 * Serious and critical breaches of WCAG 2 A and AA that axe finds in a part of the page, in words. The dark look differs
 * from the light one in its colours alone.
 */
async function breaches(page: Page, part: string, theme: 'light' | 'dark'): Promise<string[]> {
  const axe = new AxeBuilder({ page }).include(part);
  if (theme === 'light') axe.withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa']);
  else axe.withRules(['color-contrast']);
  const { violations } = await axe.analyze();
  return violations
    .filter((v) => v.impact === 'serious' || v.impact === 'critical')
    .flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.join(' ')} — ${n.any[0]?.message ?? v.help}`));
}

for (const theme of sample(['light', 'dark'] as const))
  test(`no serious breach of WCAG AA in any stage, ${theme}`, async ({ bench }) => {
    if (theme === 'dark') await bench.button('Dark').click();
    await expect(bench.page.locator('html')).toHaveAttribute('data-theme', theme);
    await bench.findings(); // those that hold are unfolded too
    await bench.page.getByText('Open', { exact: true }).click();
    const found = await breaches(bench.page, 'body', theme);
    await bench.page.keyboard.press('Escape');
    await expect(bench.page.locator('.menu[open]')).toHaveCount(0);
    // the first stop of a round by keyboard skips to the middle; there “?” lists the keys
    await bench.page.locator('.skip').focus();
    await bench.page.keyboard.press('Enter');
    await expect(bench.page.locator('.middle')).toBeFocused();
    await bench.page.keyboard.press('?');
    await expect(bench.page.locator('.keys-list')).toBeVisible();
    found.push(...(await breaches(bench.page, '.top', theme)));
    await bench.page.keyboard.press('Escape');
    await expect(bench.page.locator('.keys-list')).toBeHidden();
    for (const stage of sample(STAGES, 3)) {
      await bench.stage(stage);
      // everything that is folded is opened, so that it is looked at
      await bench.page.evaluate(() =>
        document.querySelectorAll<HTMLDetailsElement>('.panel details').forEach((d) => (d.open = true)),
      );
      found.push(...(await breaches(bench.page, '.panel, .middle', theme)).map((b) => `${stage}: ${b}`));
      const over = await bench.page.evaluate(() => document.documentElement.scrollHeight - innerHeight);
      expect(over, `${stage}: the page itself is taller than the window`).toBeLessThanOrEqual(0);
    }
    expect(found).toEqual([]);
    // …and the check does see one
    await bench.page
      .locator('.stage-head h2')
      .evaluate((h, colour) => (h.style.color = colour), theme === 'light' ? '#ddd' : '#333');
    expect(await breaches(bench.page, '.stage-head', theme)).toEqual([expect.stringContaining('color-contrast')]);
  });

/** Presses Tab until the focus is on what is looked for, as one without a mouse does. */
async function tabTo(page: Page, selector: string): Promise<void> {
  for (let i = 0; i < 400; i++) {
    await page.keyboard.press('Tab');
    if (await page.evaluate((s) => document.activeElement?.matches(s) ?? false, selector)) return;
  }
  throw new Error(`Tab never comes to ${selector}`);
}

test('the keyboard alone goes from a nudged point to the exported drawing', async ({ bench }) => {
  const { page } = bench;
  await tabTo(page, '.stages button:nth-child(3)');
  await page.keyboard.press('Enter');
  await tabTo(page, '[data-view=side] [data-point=s1-lid]');
  // what has the focus can be seen to have it
  expect(await page.evaluate(() => getComputedStyle(document.activeElement!).outlineStyle)).not.toBe('none');
  for (let i = 0; i < 3; i++) await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('Shift+ArrowUp');
  await expect(page.locator('li[data-finding][data-state=fails]')).toHaveCount(0);
  await tabTo(page, '.travel input[type=range]');
  await page.keyboard.press('End');
  expect(await bench.angle()).toBe(70);
  await page.keyboard.press('Home');
  await page.keyboard.press('Control+z');
  await expect(bench.redo).toBeEnabled();
  await page.keyboard.press('Control+y');
  await expect(bench.redo).toBeDisabled();
  await tabTo(page, '.stages button:nth-child(6)');
  await page.keyboard.press('Enter');
  await tabTo(page, 'input[name="brackets.0.thicknessMm"]');
  await page.keyboard.type('1/8 in'); // the field is chosen whole when it gets the focus
  await page.keyboard.press('Enter');
  await expect(bench.field('brackets.0.thicknessMm')).toHaveValue('3.175');
  await tabTo(page, '.stages button:nth-child(7)');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('button', { name: 'Export PDF' }).first()).toBeVisible();
  await tabTo(page, '.panel .row button:first-child');
  await expect(page.locator(':focus')).toHaveText('Export PDF');
  const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
  expect(download.suggestedFilename()).toMatch(/\.pdf$/);
});

/** What sticks out of the window, or is cut off without a way to scroll to it. */
async function outside(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const out: string[] = [];
    const { scrollWidth, clientWidth } = document.documentElement;
    if (scrollWidth > clientWidth) out.push(`the page scrolls sideways: ${scrollWidth} in ${clientWidth}`);
    for (const selector of ['.panel', '.findings', '.stage-head', '.top']) {
      const box = document.querySelector(selector)!.getBoundingClientRect();
      if (box.width < 48 || box.height < 20) out.push(`${selector} is not to be seen`);
      if (box.left < -1 || box.right > innerWidth + 1 || box.bottom > innerHeight + 1 || box.top < -1)
        out.push(`${selector} sticks out: ${JSON.stringify(box)}`);
    }
    for (const element of document.querySelectorAll<HTMLElement>(
      '.top button, .top select, .travel button, .stages button',
    )) {
      const box = element.getBoundingClientRect();
      if (box.right > innerWidth + 1 || box.bottom > innerHeight + 1) out.push(`"${element.textContent}" is cut off`);
    }
    for (const view of document.querySelectorAll<HTMLElement>('[data-view=side], [data-view=top]')) {
      const box = view.getBoundingClientRect();
      if (box.width < 160 || box.height < 90) out.push(`${view.dataset['view']} view is ${box.width} × ${box.height}`);
    }
    const strip = document.querySelector('.travel')?.getBoundingClientRect();
    if (strip && strip.bottom > innerHeight + 1) out.push('the travel sticks out');
    for (const panel of document.querySelectorAll<HTMLElement>('.panel, .findings'))
      if (panel.scrollWidth > panel.clientWidth + 1) out.push(`${panel.className} scrolls sideways`);
    return out;
  });
}

test.describe('screens', () => {
  for (const [name, viewport, deviceScaleFactor] of sample([
    ['1280 × 720', { width: 1280, height: 720 }, 1],
    ['3840 × 2160 at 200 %', { width: 1920, height: 1080 }, 2],
  ] as const))
    test.describe(name, () => {
      test.use({ ownPage: true, viewport, deviceScaleFactor });
      test('all is in reach @deep', async ({ bench }) => {
        const found: string[] = [];
        for (const stage of STAGES) {
          await bench.stage(stage);
          found.push(...(await outside(bench.page)).map((what) => `${stage}: ${what}`));
        }
        expect(found).toEqual([]);
        const small = await bench.page.evaluate(() =>
          [...document.querySelectorAll<HTMLElement>('button, label, p, li, td, th, span, input, select')]
            .filter((e) => e.offsetParent && e.textContent && parseFloat(getComputedStyle(e).fontSize) < 11)
            .map((e) => `${e.className || e.tagName}: ${getComputedStyle(e).fontSize}`),
        );
        expect([...new Set(small)]).toEqual([]);
        await bench.stage('Place');
        // sharp on a fine screen: the drawing has a pixel for each of the screen's
        const fine = await bench
          .view('side')
          .locator('canvas')
          .first()
          .evaluate((c) => (c as HTMLCanvasElement).width / c.clientWidth);
        expect(fine).toBeCloseTo(deviceScaleFactor, 2);
      });
    });
});

plain('without WebGL everything but the view in space works, and it says so @deep', async () => {
  const { launchOptions, baseURL, viewport } = plain.info().project.use;
  const args = (launchOptions?.args ?? []).filter((a) => !a.includes('swiftshader'));
  const browser = await chromium.launch({
    ...launchOptions,
    args: [...args, '--disable-gpu', '--disable-3d-apis', '--disable-webgl'],
  });
  try {
    const page = await browser.newPage({ baseURL, viewport });
    const errors = await watch(page);
    await page.addInitScript(withoutPickers);
    const bench = new Bench(page);
    await bench.open();
    expect(await page.evaluate(() => document.createElement('canvas').getContext('webgl2'))).toBeNull();
    await expect(bench.view('space')).toContainText(/WebGL|can.t be shown|not shown/i);
    await bench.dragPoint('side', 's1-lid', 12, -4);
    await expect(bench.undo).toBeEnabled();
    await bench.setAngle(40);
    expect((await bench.findings()).length).toBeGreaterThan(5);
    // the library that draws in space says once more that it can't
    expect((await errors()).filter((e) => !/WebGL/i.test(e))).toEqual([]);
  } finally {
    await browser.close();
  }
});

test.describe('policy', () => {
  test.use({ allowed: /example\.invalid/ });
  test('the page may only load its own: the policy is there and is kept', async ({ bench }) => {
    const answer = await bench.page.request.get('/');
    expect(answer.headers()['content-security-policy']).toContain("default-src 'none'");
    // the watch for breaches does see one
    await bench.page.evaluate(() => {
      const image = document.createElement('img');
      image.src = 'https://example.invalid/x.png';
      document.body.append(image);
    });
    const seen = (): Promise<string[]> =>
      bench.page.evaluate(() => (window as unknown as { policyBreaks: string[] }).policyBreaks.splice(0));
    await expect.poll(seen).toEqual([expect.stringContaining('img-src refused https://example.invalid')]);
  });
});

/** Landmarks, named regions and headings of the page in the order in which a screen reader reads them; numbers are left out. */
const readingOrder = async (page: Page): Promise<string[]> =>
  (await page.locator('body').ariaSnapshot())
    .split('\n')
    .flatMap(
      (line) =>
        /^\s*- (?:(?:banner|navigation|main|complementary|region|heading|slider|table|img)\b.*?):?$/.exec(line)?.[0] ??
        [],
    )
    .map((line) =>
      line
        .trim()
        .slice(2)
        .replace(/:$/, '')
        .replace(/[-−]?\d[\d.,]*/g, '#'),
    );

test('a screen reader reads each stage in the order in which it is looked at @deep', async ({ bench }) => {
  const order: Record<string, string[]> = {};
  await bench.workedOut();
  for (const stage of STAGES) {
    await bench.stage(stage);
    await bench.painted();
    order[stage] = await readingOrder(bench.page);
  }
  if (process.env['LIDWRIGHT_WRITE']) writeFileSync(ORDER, `${JSON.stringify(order, null, 2)}\n`);
  expect(order).toEqual(JSON.parse(readFileSync(ORDER, 'utf8')));
});

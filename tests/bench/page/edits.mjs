// From a value entered to the frame that shows what follows from it, in a real browser without a graphics card.
//   node tests/bench/page/edits.mjs http://127.0.0.1:5301/ [http://127.0.0.1:5302/ …]
// Each address is a running page (npm start -- --serve --port 5301), say an older commit and this one; they take turns. The
// time begins at the entering and ends when the next frame has been handed on, so it holds the wait for that frame.
import { readFileSync } from 'node:fs';
import { chromium } from '@playwright/test';

const ROUNDS = Number(process.env.EDIT_ROUNDS ?? 3);
const TIMES = Number(process.env.EDIT_TIMES ?? 15);
const pages = process.argv.slice(2);
if (pages.length === 0) throw new Error('Give the address of at least one running page.');

const boat = JSON.parse(
  readFileSync(new URL('../../../assets/examples/workboat-hatch.lidjob', import.meta.url), 'utf8'),
);
const JOB = JSON.stringify({ ...boat, title: 'Timed' });

/** Each kind of edit (a reading's note has no field in either page, a mass's name stands for it): the stage, the field, and its k-th value. */
const EDITS = [
  ['title', 'Measure', 'input[name="title"]', (k) => `Hatch ${k}`],
  [
    'photo opacity',
    'Measure',
    'input[type=range]:not([aria-label="Opening angle"])',
    (k) => String(0.3 + (k % 12) / 20),
  ],
  ["a mass's name", 'Weigh', 'input[name="masses.0.name"]', (k) => `Panel ${k}`],
  ['a mass', 'Weigh', 'input[name="masses.0.kg"]', (k) => String(31 + k / 100)],
  ['strut force', 'Strut', 'input[name="struts.0.spec.forceN"]', (k) => String(880 + k)],
  ['bracket thickness', 'Bracket', 'input[name="brackets.0.thicknessMm"]', (k) => String(8 + k / 100)],
];

/** Gives the field a value as a person does and resolves with the ms until the frame after is handed on. */
const enter = ({ selector, value }) =>
  new Promise((resolve) => {
    const field = document.querySelector(selector);
    field.focus();
    const set = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value').set;
    const type = () => (set.call(field, value), field.dispatchEvent(new Event('input', { bubbles: true })));
    const slider = field.type === 'range';
    if (!slider) type();
    setTimeout(() => {
      const from = performance.now();
      if (slider) type();
      else field.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true }));
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => resolve(performance.now() - from);
        port2.postMessage(0);
      });
    }, 60);
  });

async function round(browser, address, all) {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(address);
  await page.waitForTimeout(1000);
  await page.evaluate((text) => {
    const data = new DataTransfer();
    data.items.add(new File([text], 'timed.lidjob', { type: 'application/json' }));
    const on = document.querySelector('[data-view=side]') ?? document.querySelector('main') ?? document.body;
    on.dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
  }, JOB);
  await page.locator('[data-finding]').first().waitFor();
  await page.waitForFunction(() => document.title.includes('Timed') || document.body.textContent.includes('Timed'));
  for (const [name, stage, selector, value] of EDITS) {
    await page
      .locator('nav')
      .getByRole('button', { name: new RegExp(stage) })
      .first()
      .click();
    await page.waitForTimeout(300);
    await page.evaluate(() => document.querySelectorAll('.panel details').forEach((d) => (d.open = true)));
    await page.locator(selector).first().waitFor({ state: 'attached' });
    for (let k = 0; k < TIMES + 3; k++) {
      const ms = await page.evaluate(enter, { selector, value: value(k + 1) });
      if (k >= 3) all.get(name).push(ms); // the first ones warm the page up
      await page.waitForTimeout(700 + Math.random() * 50);
    }
  }
  await page.close();
}

const at = (times, share) => [...times].sort((a, b) => a - b)[Math.floor(share * (times.length - 1))].toFixed(1);

const browser = await chromium.launch({
  executablePath: process.env.LIDWRIGHT_CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--enable-unsafe-swiftshader', '--disable-background-networking', '--no-first-run'],
});
const taken = new Map(pages.map((address) => [address, new Map(EDITS.map(([name]) => [name, []]))]));
for (let k = 0; k < ROUNDS; k++) for (const [address, all] of taken) await round(browser, address, all);
await browser.close();
console.log(
  `Ms from an edit to its frame, workboat's hatch, 1440 × 900: median and 95th percentile of ${ROUNDS * TIMES}`,
);
for (const [name] of EDITS) {
  const cells = pages.map((p) => [0.5, 0.95].map((q) => at(taken.get(p).get(name), q).padStart(9)).join(''));
  console.log(name.padEnd(24) + cells.join('   '));
}

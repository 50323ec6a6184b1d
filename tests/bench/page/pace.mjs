// Pointer to paint over a scripted drag of a strut's lid pivot, in a real browser without a graphics card.
//   node tests/bench/page/pace.mjs http://127.0.0.1:5301/ [http://127.0.0.1:5302/ …]
// Each address is a running page (npm start -- --serve --port 5301), say an older commit and this one. They take turns with
// an empty page, in several rounds: what an empty page takes is the browser's own (input waits for the next frame), so the
// figure that counts is the difference. Pauses between moves are random: fixed ones fall in step with the frames.
import { chromium } from '@playwright/test';

const ROUNDS = Number(process.env.PACE_ROUNDS ?? 4);
const MOVES = Number(process.env.PACE_MOVES ?? 160);
const SIZE = { width: 1440, height: 900 };
const EMPTY = '<body style="margin:0"><canvas width="1440" height="900" style="cursor:default"></canvas>';

const pages = process.argv.slice(2);
if (pages.length === 0) throw new Error('Give the address of at least one running page.');

/** Notes, for every move with the button down, how long after the event the frame that shows it has been handed on, ms. */
const listen = () => {
  window.pace = [];
  window.addEventListener(
    'pointermove',
    (e) => {
      if (e.buttons === 0) return;
      requestAnimationFrame(() => {
        // a message sent from a frame arrives after that frame's layout and painting
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => window.pace.push(performance.now() - e.timeStamp);
        port2.postMessage(0);
      });
    },
    true,
  );
};

/** Where the drag starts: the pivot's own key in the side view; the middle of an empty page. */
async function start(page, address) {
  if (address === null) return [700, 450];
  await page.locator('input[type=range][aria-label="Opening angle"]').fill('30');
  await page.waitForTimeout(800);
  const box = await page.locator('[data-view=side] [data-point="s1-lid"]').boundingBox();
  return [box.x + box.width / 2, box.y + box.height / 2];
}

/** Notes when a picture of the works map is handed on, ms. */
const listenToMap = () => {
  window.pictures = [];
  const shown = document.querySelector('[data-maps]');
  new MutationObserver(() => window.pictures.push(performance.now())).observe(shown, {
    attributeFilter: ['data-maps'],
  });
};

/** Drags the same pivot with the works map of the strut as it is under it: pictures a second while the pointer moves. */
async function mapRound(browser, address) {
  const page = await opened(browser, address);
  await page.getByRole('navigation', { name: 'Stages of the job' }).getByRole('button', { name: 'Place' }).click();
  const asIs = page.getByRole('button', { name: 'this strut' });
  // an older edition has no map
  if (!(await asIs.isVisible())) return { pictures: 0, seconds: NaN };
  await asIs.click();
  await page.locator('[data-maps]:not([data-maps="0"])').waitFor();
  await page.waitForTimeout(1500);
  const [x, y] = await start(page, address);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.evaluate(listenToMap);
  const began = Date.now();
  await drag(page, x, y);
  const seconds = (Date.now() - began) / 1000;
  const pictures = await page.evaluate(() => window.pictures.length);
  await page.mouse.up();
  await page.close();
  return { pictures, seconds };
}

async function opened(browser, address) {
  const page = await browser.newPage({ viewport: SIZE });
  await page.goto(address);
  // an edition before the start page opened the example by itself
  const example = page.getByRole('button', { name: /^Workboat engine hatch/ });
  await example.or(page.locator('[data-finding]')).first().waitFor();
  if (await example.isVisible()) await example.click();
  await page.locator('[data-finding]').first().waitFor();
  return page;
}

async function drag(page, x, y) {
  for (let i = 1; i <= MOVES; i++) {
    await page.mouse.move(x + 24 * Math.sin(i / 12), y + 16 * (1 - Math.cos(i / 9)));
    await page.waitForTimeout(Math.random() * 20);
  }
}

async function round(browser, address) {
  const page = address === null ? await browser.newPage({ viewport: SIZE }) : await opened(browser, address);
  if (address === null) await page.setContent(EMPTY);
  await page.waitForTimeout(500);
  await page.evaluate(listen);
  const [x, y] = await start(page, address);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await drag(page, x, y);
  await page.mouse.up();
  const times = await page.evaluate(() => window.pace);
  await page.close();
  // the first moves warm the page up
  return times.slice(Math.floor(times.length / 10));
}

const at = (times, share) => times[Math.floor(share * (times.length - 1))] ?? NaN;
const show = (name, times, empty) => {
  const cells = [0.5, 0.95]
    .flatMap((q) => [at(times, q), at(times, q) - at(empty, q)])
    .map((v) => v.toFixed(1).padStart(7));
  console.log(`${name.padEnd(34)}${cells.join('')}${String(times.length).padStart(7)}`);
};

const browser = await chromium.launch({
  executablePath: process.env.LIDWRIGHT_CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--enable-unsafe-swiftshader', '--disable-background-networking', '--no-first-run'],
});
const all = new Map([null, ...pages].map((address) => [address, []]));
for (let k = 0; k < ROUNDS; k++) for (const [address, times] of all) times.push(...(await round(browser, address)));
const maps = [];
for (const address of pages) maps.push([address, await mapRound(browser, address)]);
await browser.close();
for (const times of all.values()) times.sort((a, b) => a - b);
const empty = all.get(null);
console.log(`Pointer to paint, ms, ${SIZE.width} × ${SIZE.height}, software GL, ${ROUNDS} rounds of ${MOVES} moves\n`);
console.log(`${''.padEnd(34)} median  –empty    p95 –empty  moves`);
show('empty page', empty, empty);
for (const address of pages) show(address, all.get(address), empty);
for (const [address, { pictures, seconds }] of maps)
  console.log(
    `works map in a drag, ${address}: ${pictures} pictures in ${seconds.toFixed(1)} s, ${(pictures / seconds).toFixed(1)} a second`,
  );
const [first, last] = [pages[0], pages.at(-1)];
if (first !== last)
  for (const [name, q] of [
    ['median', 0.5],
    ['p95', 0.95],
  ]) {
    const ratio = (at(all.get(last), q) - at(empty, q)) / (at(all.get(first), q) - at(empty, q));
    console.log(`${name}, less the empty page: last / first ${ratio.toFixed(2)}`);
  }

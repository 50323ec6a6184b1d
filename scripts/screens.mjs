// Looks at every stage of the examples and of an empty job, in three sizes, light and dark, for text that is cut off or lies
// on other text and for targets under 24 px. Exit code 1 where there is any.
//   node scripts/screens.mjs [--out FOLDER] [--url ADDRESS] [--only TEXT,TEXT…] (TEXT as "1280 dark Strut locker")
import './lib/require-node.mjs';
import { mkdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { build } from './lib/build.mjs';
import { inRoot } from './lib/root.mjs';
import { findOnScreen } from './lib/on-screen.mjs';
import { serveFolder } from './lib/static-server.mjs';
import { findChromium } from './lib/test-tools.mjs';
import { setUp } from './setup.mjs';

const SIZES = [
  [1440, 900],
  [1280, 720],
  [1920, 1080],
];
const STAGES = ['Measure', 'Weigh', 'Place', 'Strut', 'Joints', 'Bracket', 'Papers', 'Prove'];
const example = (name) => readFileSync(inRoot('assets/examples', `${name}.lidjob`), 'utf8');
/** A hinge, a lid and a grip; nothing weighed, no strut. */
function emptyJob() {
  const { points, hinge, outline, grip, travel } = JSON.parse(example('workboat-hatch'));
  const used = new Set([hinge.a, hinge.b, grip, ...outline]);
  return JSON.stringify({
    ...{ format: 'lidwright-job', version: 1, title: 'Nothing on it yet', hinge, outline, grip, travel },
    points: points.filter((p) => used.has(p.id)),
    masses: [],
    struts: [],
    loadCases: [{ id: 'c1' }],
  });
}
const JOBS = { workboat: 'workboat-hatch', locker: 'trailer-locker', guard: 'machine-guard', empty: null };
const say = (line) => process.stdout.write(`${line}\n`);

/** Drops a job on the page as a file. */
async function drop(page, text) {
  const transfer = await page.evaluateHandle((content) => {
    const carried = new DataTransfer();
    carried.items.add(new File([content], 'job.lidjob'));
    return carried;
  }, text);
  for (const type of ['dragover', 'drop']) await page.dispatchEvent('.middle', type, { dataTransfer: transfer });
  await page.locator('.job-file', { hasText: 'job.lidjob' }).waitFor();
}

async function main() {
  const { values } = parseArgs({
    options: { out: { type: 'string' }, url: { type: 'string' }, only: { type: 'string', default: '' } },
  });
  const executablePath = findChromium();
  if (executablePath === null)
    throw new Error('There is no Chromium here. Install one, or name it with LIDWRIGHT_CHROMIUM=/path/to/it.');
  let server = null;
  if (!values.url) {
    await setUp(say);
    await build('program', { log: say });
    server = await serveFolder(inRoot('out/renderer'));
  }
  const wanted = values.only.split(',').map((words) => words.split(' ').filter(Boolean));
  const { chromium } = await import('@playwright/test');
  const browser = await chromium.launch({ executablePath, args: ['--no-sandbox', '--enable-unsafe-swiftshader'] });
  let [screens, found] = [0, 0];
  try {
    for (const [job, name] of Object.entries(JOBS))
      for (const [width, height] of SIZES)
        for (const theme of ['light', 'dark']) {
          const stages = STAGES.filter((stage) =>
            wanted.some((words) => words.every((w) => [job, String(width), theme, stage].includes(w))),
          );
          if (stages.length === 0) continue;
          const page = await browser.newPage({ viewport: { width, height } });
          await page.goto(server?.address ?? values.url);
          await page.getByRole('button', { name: /^Workboat engine hatch/ }).click();
          await page.locator('.finding').first().waitFor();
          await drop(page, name === null ? emptyJob() : example(name));
          if (theme === 'dark') await page.getByRole('button', { name: 'Dark', exact: true }).click();
          for (const stage of stages) {
            await page.locator('.stages').getByRole('button', { name: stage }).click();
            // all is worked out, the search has ended
            await page.getByText('Being worked out').first().waitFor({ state: 'hidden' });
            await page.locator('progress').first().waitFor({ state: 'hidden' });
            await page.mouse.move(2, 2);
            screens++;
            const where = `${job} ${width} ${theme} ${stage}`;
            if (values.out) {
              mkdirSync(values.out, { recursive: true });
              await page.screenshot({ path: path.join(values.out, `${where.replaceAll(' ', '-')}.png`) });
            }
            for (const line of await page.evaluate(findOnScreen)) {
              found++;
              say(`${where}: ${line}`);
            }
          }
          await page.close();
        }
  } finally {
    await browser.close();
    await server?.close();
  }
  say(`${found} found on ${screens} screens.`);
  process.exitCode = found > 0 || screens === 0 ? 1 : 0;
}

main().catch((error) => {
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
});

// Takes the picture of the bench for the README: the workboat example, lid part open, at 1440 × 900.
//   node scripts/screenshot.mjs [--out FILE.png] [--angle DEG]
import './lib/require-node.mjs';
import { mkdirSync } from 'node:fs';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { build } from './lib/build.mjs';
import { inRoot } from './lib/root.mjs';
import { serveFolder } from './lib/static-server.mjs';
import { findChromium } from './lib/test-tools.mjs';
import { setUp } from './setup.mjs';

const say = (line) => process.stdout.write(`${line}\n`);

async function main() {
  const { values } = parseArgs({ options: { out: { type: 'string' }, angle: { type: 'string', default: '35' } } });
  const out = path.resolve(values.out ?? inRoot('assets/screenshots/bench.png'));
  const angle = Number(values.angle);
  if (!(angle >= 0 && angle <= 180))
    throw new Error(`--angle needs degrees from 0 to 180; "${values.angle}" is none. Example: --angle 35.`);
  const executablePath = findChromium();
  if (executablePath === null)
    throw new Error('There is no Chromium here. Install one, or name it with LIDWRIGHT_CHROMIUM=/path/to/it.');
  await setUp(say);
  await build('program', { log: say });
  const { chromium } = await import('@playwright/test');
  const server = await serveFolder(inRoot('out/renderer'));
  const browser = await chromium.launch({ executablePath, args: ['--no-sandbox', '--enable-unsafe-swiftshader'] });
  try {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 }, deviceScaleFactor: 1 });
    await page.goto(server.address);
    await page.getByRole('button', { name: /^Workboat engine hatch/ }).click();
    await page.locator('li[data-finding]').first().waitFor();
    await page.waitForLoadState('networkidle'); // the photos are in
    await page.locator('input[type=range][aria-label="Opening angle"]').fill(String(angle));
    await page.mouse.move(2, 2);
    await page.evaluate(() => document.activeElement?.blur());
    // drawn: two pictures in a row are the same
    let before = '';
    for (let i = 0; i < 50; i++) {
      const now = (await page.screenshot()).toString('base64');
      if (now === before) break;
      before = now;
    }
    mkdirSync(path.dirname(out), { recursive: true });
    await page.screenshot({ path: out });
    say(`Wrote ${path.relative(process.cwd(), out)}.`);
  } finally {
    await browser.close();
    await server.close();
  }
}

main().catch((error) => {
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
});

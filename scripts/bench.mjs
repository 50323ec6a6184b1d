// npm run bench: the timed comparisons, with what was measured printed as it comes; last, where there is a Chromium, the page's
// pace. `npm run bench -- travel` runs one of them, `npm run bench -- pace` the page's.
import './lib/require-node.mjs';
import { build } from './lib/build.mjs';
import { inRoot, root } from './lib/root.mjs';
import { run } from './lib/run.mjs';
import { serveFolder } from './lib/static-server.mjs';
import { findChromium } from './lib/test-tools.mjs';
import { setUp } from './setup.mjs';

const node = async (file, args, env = {}) => {
  const { code } = await run(process.execPath, [inRoot(file), ...args], { cwd: root, env: { ...process.env, ...env } });
  process.exitCode ||= code ?? 1;
};

async function pace() {
  const chromium = findChromium();
  if (chromium === null) return void process.stdout.write('There is no Chromium here: the page was not measured.\n');
  await build('program');
  const server = await serveFolder(inRoot('out/renderer'));
  await node('tests/bench/page/pace.mjs', [server.address], { LIDWRIGHT_CHROMIUM: chromium });
  await server.close();
}

try {
  await setUp();
  const wanted = process.argv.slice(2);
  if (!wanted.includes('pace')) await node('node_modules/vitest/vitest.mjs', ['run', '--project', 'bench', ...wanted]);
  if (wanted.length === 0 || wanted.includes('pace')) await pace();
} catch (error) {
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
}

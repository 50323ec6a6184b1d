// npm run bench: the timed comparisons, with what was measured printed as it comes.
import './lib/require-node.mjs';
import { inRoot, root } from './lib/root.mjs';
import { run } from './lib/run.mjs';
import { setUp } from './setup.mjs';

try {
  await setUp();
  const args = [inRoot('node_modules/vitest/vitest.mjs'), 'run', '--project', 'bench', ...process.argv.slice(2)];
  const result = await run(process.execPath, args, { cwd: root });
  process.exitCode = result.code ?? 1;
} catch (error) {
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
}

// npm run package [-- --linux | --win | --mac]: installers of the desktop program for this system, into out/packages. The packer is
// fetched for the occasion: nobody who works on the product needs its two hundred packages.
import './lib/require-node.mjs';
import { readFileSync } from 'node:fs';
import { build } from './lib/build.mjs';
import { npmCommand } from './lib/npm.mjs';
import { inRoot, root } from './lib/root.mjs';
import { run } from './lib/run.mjs';
import { setUp } from './setup.mjs';

const PACKER = 'electron-builder@26.17.0';

/** What a bundle still asks for that is neither Node's nor Electron's: it would be missing in the package. */
const missingIn = (file) =>
  [...readFileSync(file, 'utf8').matchAll(/(?:^|[;}\s])(?:import|from)\s*"([^"$`+]+)"/g)]
    .map(([, name]) => name)
    .filter((name) => name !== 'electron' && !name.startsWith('node:') && !name.startsWith('.'));

try {
  const say = (line) => process.stdout.write(`${line}\n`);
  await setUp(say);
  await build('program', { log: say, force: true });
  const missing = missingIn(inRoot('out/main/main.js'));
  if (missing.length > 0) throw new Error(`out/main/main.js needs ${missing.join(', ')}, which no package would have.`);
  const { command, first, shell } = npmCommand();
  const pack = [
    'exec',
    '--yes',
    '--package',
    PACKER,
    '--',
    'electron-builder',
    '--config',
    'electron-builder.config.ts',
  ];
  const asked = process.argv.slice(2);
  const { code } = await run(command, [...first, ...pack, '--publish', 'never', ...asked], {
    cwd: root,
    shell,
    stdio: 'inherit',
  });
  process.exitCode = code ?? 2;
} catch (error) {
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
}

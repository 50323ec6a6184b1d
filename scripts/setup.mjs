// Brings node_modules in line with package-lock.json. Needs nothing but Node itself.
import './lib/require-node.mjs';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { setupNeed } from './lib/installed.mjs';
import { npmCommand } from './lib/npm.mjs';
import { inRoot, isMain, root } from './lib/root.mjs';
import { run } from './lib/run.mjs';

const readOrNull = (file) => (existsSync(file) ? readFileSync(file, 'utf8') : null);

/**
 * Installs the packages when they are missing or do not match the lock file; otherwise does nothing.
 * @param {(line: string) => void} log where the one line of news goes
 * @param {{ toStderr?: boolean }} how toStderr keeps npm's own words off stdout
 */
export async function setUp(log = console.log, { toStderr = false } = {}) {
  const lockText = readFileSync(inRoot('package-lock.json'), 'utf8');
  const stampFile = inRoot('node_modules/.lidwright-setup');
  const wantedStamp = createHash('sha256')
    .update(lockText)
    .update(process.platform + process.arch)
    .digest('hex');
  const need = setupNeed({
    lockText,
    wantedStamp,
    stamp: readOrNull(stampFile),
    installedText: readOrNull(inRoot('node_modules/.package-lock.json')),
  });
  if (need === 'install') {
    log('Setting up: installing the packages that package-lock.json names (npm ci, about half a minute) …');
    const { command, first, shell } = npmCommand();
    const args = [...first, 'ci', '--include=dev', '--no-audit', '--no-fund', '--loglevel=error'];
    const stdio = ['ignore', toStderr ? 2 : 'inherit', 'inherit'];
    const result = await run(command, args, { cwd: root, shell, stdio });
    if (result.code !== 0) {
      throw new Error(
        `Setting up failed: npm ci ${result.error ? `could not be started (${result.error.message})` : `ended with ${result.code ?? result.signal}`}. ` +
          'Its own words are above. Check that npm is installed and that its registry can be reached, then try again.',
      );
    }
  }
  if (need !== 'ready') writeFileSync(stampFile, wantedStamp);
}

if (isMain(import.meta.url)) {
  await setUp().catch((error) => {
    console.error(error.message);
    process.exitCode = 2;
  });
}

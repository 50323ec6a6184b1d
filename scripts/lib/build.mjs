import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { inRoot, root } from './root.mjs';
import { run } from './run.mjs';
import { isFresh, sourceStamp, withLock } from './stamp.mjs';

const TOOLING = [
  'package.json',
  'package-lock.json',
  'tsconfig.json',
  'electron.vite.config.ts',
  'scripts/lib/notices.ts',
];

/** What is built, out of what, and by which command. */
export const BUILDS = {
  program: {
    words: 'the program',
    sources: ['core', 'renderer', 'electron', 'assets', 'docs', 'DEVELOPERS.md', 'scripts/lib/guide.ts', ...TOOLING],
    products: ['out/main/main.js', 'out/preload/preload.cjs', 'out/renderer/index.html'],
    stamp: 'out/.program-stamp',
    args: [inRoot('node_modules/electron-vite/bin/electron-vite.js'), 'build', '--logLevel', 'warn'],
  },
  headless: {
    words: 'the command',
    sources: ['core', 'electron', 'renderer/host', 'scripts/lib/headless.vite.config.mjs', ...TOOLING],
    products: ['out/headless/lidwright.js'],
    stamp: 'out/.headless-stamp',
    args: [
      inRoot('node_modules/vite/bin/vite.js'),
      'build',
      '--config',
      inRoot('scripts/lib/headless.vite.config.mjs'),
      '--logLevel',
      'warn',
    ],
  },
};

/**
 * Builds what is missing or older than its sources.
 * @param {keyof typeof BUILDS} which
 * @param {{ log?: (line: string) => void, toStderr?: boolean, force?: boolean }} how
 */
export async function build(which, { log = console.log, toStderr = false, force = false } = {}) {
  const plan = BUILDS[which];
  const stampFile = inRoot(plan.stamp);
  const wanted = () => sourceStamp(root, plan.sources);
  const fresh = (wantedStamp) =>
    isFresh({
      wantedStamp,
      stamp: existsSync(stampFile) ? readFileSync(stampFile, 'utf8') : null,
      productsExist: plan.products.every((file) => existsSync(inRoot(file))),
    });
  if (!force && fresh(wanted())) return;
  await withLock(inRoot('.cache', `build-${which}.lock`), async () => {
    const wantedStamp = wanted();
    if (!force && fresh(wantedStamp)) return; // somebody else has just built it
    log(`Building ${plan.words} …`);
    rmSync(stampFile, { force: true });
    const stdio = ['ignore', toStderr ? 2 : 'inherit', 'inherit'];
    const result = await run(process.execPath, plan.args, { cwd: root, stdio });
    if (result.code !== 0) {
      throw new Error(
        `Building ${plan.words} failed (${result.error?.message ?? result.code ?? result.signal}). The builder's own words are above.`,
      );
    }
    const missing = plan.products.filter((file) => !existsSync(inRoot(file)));
    if (missing.length > 0) throw new Error(`Building ${plan.words} left out ${missing.join(', ')}.`);
    mkdirSync(path.dirname(stampFile), { recursive: true });
    writeFileSync(stampFile, wantedStamp);
  });
}

// Finds Electron's program without asking the electron package: asking it would start a download that can hang.
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { inRoot, root } from './root.mjs';
import { run } from './run.mjs';

const PACKAGE = inRoot('node_modules/electron');
const FAILED = inRoot('.cache/electron-not-had.json');
const TIME_LIMIT_MS = 20_000;

/**
 * Where the program lies, or null.
 * @param {{ packageDir: string, override?: string, readText: (file: string) => string | null, exists: (file: string) => boolean }} seen
 */
export function findElectron({ packageDir, override, readText, exists }) {
  const named = readText(path.join(packageDir, 'path.txt'))?.trim() || null;
  if (override) {
    const names = [named, 'electron', 'electron.exe', 'Electron.app/Contents/MacOS/Electron'].filter(Boolean);
    return names.map((name) => path.join(override, name)).find(exists) ?? null;
  }
  if (named === null) return null;
  const file = path.join(packageDir, 'dist', named);
  return exists(file) ? file : null;
}

/** The program on this machine, or null: only looks. */
export const electronHere = () =>
  findElectron({
    packageDir: PACKAGE,
    override: process.env.ELECTRON_OVERRIDE_DIST_PATH,
    exists: existsSync,
    readText: (file) => (existsSync(file) ? readFileSync(file, 'utf8') : null),
  });

/**
 * May and should the download be tried?
 * @returns {{ tryIt: boolean, why: string }} `why` in words when it is not tried
 */
export function downloadDecision({ env, lastFailure, version }) {
  if (env.LIDWRIGHT_NO_DOWNLOAD === '1')
    return { tryIt: false, why: 'downloads are switched off (LIDWRIGHT_NO_DOWNLOAD=1)' };
  if (env.CI) return { tryIt: false, why: 'this is an automatic run (CI is set)' };
  if (env.ELECTRON_OVERRIDE_DIST_PATH)
    return { tryIt: false, why: 'ELECTRON_OVERRIDE_DIST_PATH names a folder without it' };
  if (lastFailure && lastFailure.version === version)
    return {
      tryIt: false,
      why: `fetching it failed on ${lastFailure.day} (delete .cache/electron-not-had.json, or start with --fetch, to try again)`,
    };
  return { tryIt: true, why: '' };
}

/**
 * Electron's program, fetched if need be.
 * @param {{ log: (line: string) => void, retry?: boolean }} how
 * @returns {Promise<{ binary: string, why: '' } | { binary: null, why: string }>} `why` says why there is none
 */
export async function obtainElectron({ log, retry = false }) {
  const here = electronHere();
  if (here) return { binary: here, why: '' };
  if (!existsSync(path.join(PACKAGE, 'package.json')))
    return { binary: null, why: 'the electron package is not installed' };
  const version = JSON.parse(readFileSync(path.join(PACKAGE, 'package.json'), 'utf8')).version;
  if (retry) rmSync(FAILED, { force: true });
  const decision = downloadDecision({ env: process.env, lastFailure: readFailure(), version });
  if (!decision.tryIt) return { binary: null, why: decision.why };
  log(`Fetching Electron ${version} (once; at most ${TIME_LIMIT_MS / 1000} s) …`);
  const result = await run(process.execPath, [path.join(PACKAGE, 'install.js')], {
    cwd: root,
    stdio: ['ignore', 'ignore', 'ignore'],
    timeoutMs: TIME_LIMIT_MS,
  });
  const binary = electronHere();
  if (result.code === 0 && binary) return { binary, why: '' };
  mkdirSync(path.dirname(FAILED), { recursive: true });
  writeFileSync(FAILED, `${JSON.stringify({ version, day: new Date().toISOString().slice(0, 10) })}\n`);
  const cause = result.timedOut ? `did not finish in ${TIME_LIMIT_MS / 1000} s` : 'failed';
  return {
    binary: null,
    why: `fetching it ${cause} (the next start will not try again; start with --fetch, or run "npx --no-install install-electron", to retry)`,
  };
}

function readFailure() {
  try {
    return JSON.parse(readFileSync(FAILED, 'utf8'));
  } catch {
    return null;
  }
}

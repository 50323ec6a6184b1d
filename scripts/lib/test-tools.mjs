// The programs that the tests need beside Node: a Chromium, and independent readers of PDF and SVG.
import { accessSync, constants } from 'node:fs';
import path from 'node:path';
import { run } from './run.mjs';

const CHROMIUMS = ['chromium', 'chromium-browser'];
/** Program → the Debian package that brings it. */
const READERS = {
  pdfinfo: 'poppler-utils',
  pdftotext: 'poppler-utils',
  pdftoppm: 'poppler-utils',
  'rsvg-convert': 'librsvg2-bin',
};

function runnable(file) {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** The first place on the PATH where one of the programs lies, or null. */
export function onPath(names, { searchPath = process.env.PATH ?? '', isRunnable = runnable } = {}) {
  for (const name of names)
    for (const folder of searchPath.split(path.delimiter).filter(Boolean)) {
      const file = path.join(folder, name);
      if (isRunnable(file)) return file;
    }
  return null;
}

/** A Chromium: the one that LIDWRIGHT_CHROMIUM names, else the system's. */
export function findChromium({ env = process.env, isRunnable = runnable } = {}) {
  if (env.LIDWRIGHT_CHROMIUM) return isRunnable(env.LIDWRIGHT_CHROMIUM) ? env.LIDWRIGHT_CHROMIUM : null;
  return onPath(CHROMIUMS, { searchPath: env.PATH ?? '', isRunnable });
}

/** The Debian packages that would bring what is missing. */
export function missingPackages({ chromium, hasProgram }) {
  const readers = Object.entries(READERS).filter(([program]) => !hasProgram(program));
  return [...new Set([...(chromium ? [] : ['chromium', 'fonts-dejavu-core']), ...readers.map(([, name]) => name)])];
}

/**
 * Finds the programs, and installs Debian's where they are missing and this account may.
 * @returns {Promise<{ chromium: string | null, advice: string | null }>} advice: what to do about what is still missing
 */
export async function obtainTools(log) {
  const look = () => {
    const chromium = findChromium();
    return { chromium, missing: missingPackages({ chromium, hasProgram: (name) => onPath([name]) !== null }) };
  };
  let seen = look();
  if (seen.missing.length > 0 && process.getuid?.() === 0 && onPath(['apt-get'])) {
    log(`Installing what the tests need from Debian: ${seen.missing.join(' ')} …`);
    const how = { env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }, stdio: ['ignore', 'ignore', 'inherit'] };
    await run('apt-get', ['update', '-q'], how);
    await run('apt-get', ['install', '-q', '-y', '--no-install-recommends', ...seen.missing], how);
    seen = look();
  }
  const advice =
    seen.missing.length === 0
      ? null
      : `Missing: ${seen.missing.join(', ')}. On Debian: sudo apt-get install ${seen.missing.join(' ')}. ` +
        'A Chromium elsewhere can be named with LIDWRIGHT_CHROMIUM=/path/to/it.';
  return { chromium: seen.chromium, advice };
}

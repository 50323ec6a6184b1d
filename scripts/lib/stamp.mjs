import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';

/** Every file below the given files and folders, sorted, as paths relative to `root`; what isn't there is left out. */
export function filesBelow(root, entries) {
  const found = [];
  const walk = (relative) => {
    const kind = statSync(path.join(root, relative), { throwIfNoEntry: false });
    if (kind?.isFile()) found.push(relative);
    else if (kind?.isDirectory())
      for (const name of readdirSync(path.join(root, relative))) walk(`${relative}/${name}`);
  };
  entries.forEach(walk);
  return found.sort();
}

/** One digest over the names and contents of the sources: it changes exactly when one of them does. */
export function sourceStamp(root, entries) {
  const digest = createHash('sha256');
  for (const file of filesBelow(root, entries)) {
    const content = readFileSync(path.join(root, file));
    digest.update(`${file}\0${content.length}\0`).update(content);
  }
  return digest.digest('hex');
}

/** True when `products` all exist and the stamp that was written after the last whole build is still right. */
export function isFresh({ stamp, wantedStamp, productsExist }) {
  return productsExist && stamp === wantedStamp;
}

/**
 * Holds a lock folder while `work` runs, so that two starts at once do not build over each other.
 * A lock whose owner is gone is taken over.
 */
export async function withLock(lockDir, work, { isAlive = pidIsAlive, waitMs = 200, giveUpMs = 180_000 } = {}) {
  mkdirSync(path.dirname(lockDir), { recursive: true });
  const owner = path.join(lockDir, 'pid');
  for (let waited = 0; ; waited += waitMs) {
    try {
      mkdirSync(lockDir);
      break;
    } catch (error) {
      if (error.code !== 'EEXIST') throw error;
      let pid = null;
      try {
        pid = Number(readFileSync(owner, 'utf8'));
      } catch {
        // between mkdir and the pid: the owner has just come, or died there
      }
      const dead = pid === null ? waited > 2_000 : !isAlive(pid);
      if (dead || waited > giveUpMs) rmSync(lockDir, { recursive: true, force: true });
      else await new Promise((resolve) => setTimeout(resolve, waitMs));
    }
  }
  try {
    writeFileSync(owner, String(process.pid));
    return await work();
  } finally {
    rmSync(lockDir, { recursive: true, force: true });
  }
}

function pidIsAlive(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
}

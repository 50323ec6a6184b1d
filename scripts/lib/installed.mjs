/**
 * Does what lies in node_modules match the lock file? Compares npm's own record of what it installed
 * (node_modules/.package-lock.json) with package-lock.json, package by package. Optional packages may be missing
 * (they belong to other machines).
 * @param {{ packages?: Record<string, { version?: string, optional?: boolean, devOptional?: boolean, peer?: boolean }> }} lock
 * @param {typeof lock | null} installed
 */
export function installedMatches(lock, installed) {
  if (!lock.packages || !installed || !installed.packages) return false;
  for (const [where, wanted] of Object.entries(lock.packages)) {
    if (where === '') continue;
    const found = installed.packages[where];
    if (!found) {
      if (wanted.optional || wanted.devOptional) continue;
      return false;
    }
    if (found.version !== wanted.version) return false;
  }
  return true;
}

/**
 * What set-up has to do.
 * @param {{ lockText: string, stamp: string | null, wantedStamp: string, installedText: string | null }} seen
 * @returns {'ready' | 'mark' | 'install'} ready: nothing; mark: right but not yet marked; install: run npm ci
 */
export function setupNeed({ lockText, stamp, wantedStamp, installedText }) {
  if (installedText === null) return 'install';
  if (stamp === wantedStamp) return 'ready';
  try {
    return installedMatches(JSON.parse(lockText), JSON.parse(installedText)) ? 'mark' : 'install';
  } catch {
    return 'install'; // a torn record: install afresh
  }
}

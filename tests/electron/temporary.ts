import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach } from 'vitest';

const made: string[] = [];
afterEach(() => made.splice(0).forEach((folder) => rmSync(folder, { recursive: true, force: true })));

/** A folder of the test's own, gone after the test. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(path.join(tmpdir(), 'lidwright-test-'));
  made.push(folder);
  return folder;
}

/** The LidwrightError that work ends in; fails when it ends well. */
export async function issueFrom(work: Promise<unknown> | (() => unknown)): Promise<{ what: string; advice: string }> {
  try {
    await (typeof work === 'function' ? work() : work);
  } catch (error) {
    const issue = error as { name: string; what: string; advice: string };
    if (issue.name !== 'LidwrightError') throw error;
    return issue;
  }
  throw new Error('it was expected to fail, and did not');
}

import path from 'node:path';

/**
 * The job that the program was started with, as a full path; null when none was named.
 * @param argv the process's arguments; the first is the program; run from its sources, the next is the project's folder
 */
export function jobFromArguments(argv: readonly string[], isPackaged: boolean, cwd: string): string | null {
  const named = argv.slice(1).filter((word) => !word.startsWith('-')); // switches may stand anywhere
  if (!isPackaged) named.shift();
  const last = named.at(-1);
  return last === undefined ? null : path.resolve(cwd, last);
}

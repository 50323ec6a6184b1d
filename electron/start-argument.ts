import path from 'node:path';

/**
 * The job that the program was started with, as a full path; null when none was named.
 * @param argv the process's arguments; run from its sources, the first two are Electron and the project's folder
 */
export function jobFromArguments(argv: readonly string[], isPackaged: boolean, cwd: string): string | null {
  const named = argv.slice(isPackaged ? 1 : 2).filter((word) => !word.startsWith('-'));
  const last = named.at(-1);
  return last === undefined ? null : path.resolve(cwd, last);
}

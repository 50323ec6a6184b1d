import path from 'node:path';
import { fileURLToPath } from 'node:url';

/** The project's folder, wherever the command was started from. */
export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');

/** A path inside the project. */
export const inRoot = (...parts) => path.join(root, ...parts);

/** True when this module is the script that Node was asked to run. */
export const isMain = (moduleUrl) =>
  process.argv[1] !== undefined && path.resolve(process.argv[1]) === fileURLToPath(moduleUrl);

/**
 * The folder that relative names are meant from: where the person stood. npm changes to the project's folder before it
 * runs a script and leaves theirs in INIT_CWD; but only the script that npm itself started may trust that.
 */
export function callerDir(script, { env = process.env, cwd = process.cwd() } = {}) {
  return env.npm_lifecycle_event === script && env.INIT_CWD && path.resolve(cwd) === root ? env.INIT_CWD : cwd;
}

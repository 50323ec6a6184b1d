import path from 'node:path';
import { fileURLToPath } from 'node:url';

/** The project's folder, wherever the command was started from. */
export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');

/** A path inside the project. */
export const inRoot = (...parts) => path.join(root, ...parts);

/** True when this module is the script that Node was asked to run. */
export const isMain = (moduleUrl) =>
  process.argv[1] !== undefined && path.resolve(process.argv[1]) === fileURLToPath(moduleUrl);

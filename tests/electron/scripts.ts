import path from 'node:path';
import { pathToFileURL } from 'node:url';

/* oxlint-disable typescript/no-explicit-any -- the scripts are plain JavaScript, which carries no types */
/** A module of scripts/lib: plain JavaScript, because it runs before anything is installed. */
export const script = (name: string): Promise<any> =>
  import(/* @vite-ignore */ pathToFileURL(path.resolve(import.meta.dirname, '../../scripts/lib', name)).href);

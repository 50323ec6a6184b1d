import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const DIR = join(import.meta.dirname, '../../golden/papers');

/**
 * Compares text with the kept file of that name. A difference is written beside it as <name>-changed.svg and reported;
 * a file that is not there yet counts as different. To accept a change, rename the changed file over the kept one.
 */
export function differsFromGolden(name: string, text: string): string | undefined {
  const kept = join(DIR, `${name}.svg`);
  const changed = join(DIR, `${name}-changed.svg`);
  if (existsSync(kept) && readFileSync(kept, 'utf8') === text) {
    rmSync(changed, { force: true });
    return undefined;
  }
  mkdirSync(DIR, { recursive: true });
  writeFileSync(changed, text);
  return `${name}.svg differs: look at ${name}-changed.svg beside it, and rename it over the old one if it is right.`;
}

// The notices of what is shipped: every package that the product is made with, its licence and the licence's own words.
import { execFileSync } from 'node:child_process';
import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';

// run from the root by npm and by what builds: a bundled build file has no folder of its own to go by
const inRoot = (...parts: string[]): string => path.resolve(...parts);

/** For the few packages that name the licence and leave its words out. */
const MIT = `Permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation files (the "Software"), to deal in the Software without restriction, including without limitation the rights to use, copy, modify, merge, publish, distribute, sublicense, and/or sell copies of the Software, and to permit persons to whom the Software is furnished to do so, subject to the following conditions:

The above copyright notice and this permission notice shall be included in all copies or substantial portions of the Software.

THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR IMPLIED, INCLUDING BUT NOT LIMITED TO THE WARRANTIES OF MERCHANTABILITY, FITNESS FOR A PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE AUTHORS OR COPYRIGHT HOLDERS BE LIABLE FOR ANY CLAIM, DAMAGES OR OTHER LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR OTHERWISE, ARISING FROM, OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE SOFTWARE.`;

interface Package {
  readonly name: string;
  readonly version: string;
  readonly license?: string;
  readonly author?: string | { readonly name: string };
}
interface Lock {
  readonly packages: Readonly<
    Record<string, { readonly dev?: boolean; readonly devOptional?: boolean; readonly optional?: boolean }>
  >;
}
interface Notice {
  readonly name: string;
  readonly version: string;
  readonly licence: string;
  readonly text: string;
}

const json = (file: string): unknown => JSON.parse(readFileSync(inRoot(file), 'utf8'));

/** Folders of the packages that are shipped: what the lock file does not call a developer's own. */
export const shippedPackages = (): string[] =>
  Object.entries((json('package-lock.json') as Lock).packages)
    .filter(([folder, { dev, devOptional, optional }]) => folder !== '' && !dev && !devOptional && !optional)
    .map(([folder]) => folder);

/** The notice of an installed package, by its folder below the root. Throws when nobody has the words of its licence. */
export function noticeOf(folder: string): Notice {
  const { name, version, license, author } = json(`${folder}/package.json`) as Package;
  const files = readdirSync(inRoot(folder)).filter((file) => /^(licen[cs]e|copying|notice|copyright)/i.test(file));
  const words = files.map((file) => readFileSync(inRoot(folder, file), 'utf8').trim());
  const licence = license ?? 'none named';
  if (words.length === 0 && licence !== 'MIT') throw new Error(`${name} ships no words of its licence (${licence}).`);
  const by = typeof author === 'string' ? author : (author?.name ?? `the authors of ${name}`);
  return { name, version, licence, text: words.join('\n\n') || `Copyright (c) ${by}\n\n${MIT}` };
}

/** The file of notices. */
export function noticesText(): string {
  const notices = shippedPackages().map(noticeOf);
  const head = `Lidwright\n\n${readFileSync(inRoot('LICENSE'), 'utf8').trim()}\n\nIt is made with the following, each under its own licence.`;
  const parts = notices.map(({ name, version, licence, text }) => `${name} ${version} (${licence})\n\n${text}`);
  return `${[head, ...parts].join(`\n\n${'-'.repeat(72)}\n\n`)}\n`;
}

/** The commit that is checked out, short; null where git can't tell (a folder that was only unpacked). */
export function commitHere(): string | null {
  try {
    const asked = execFileSync('git', ['rev-parse', '--short=10', 'HEAD'], {
      cwd: inRoot(),
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    return asked.trim();
  } catch {
    return null;
  }
}

import { readFileSync } from 'node:fs';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../../..');

export const inRepo = (...parts: string[]): string => path.join(root, ...parts);
/** An example's file; of the workboat the older fit of its strut that tests have in place of it, in which two things fail. */
export const exampleFile = (file: string): string =>
  inRepo(file.startsWith('workboat') ? 'tests/fixtures/jobs' : 'assets/examples', file);
export const exampleText = (name: string): string => readFileSync(exampleFile(`${name}.lidjob`), 'utf8');
export const photoFile = (name: string): string => inRepo('tests/fixtures/photos', name);

interface ExampleJob {
  readonly points: readonly { readonly id: string; readonly on: string; readonly at: readonly number[] }[];
}

/** Places of an example's points, lid shut, mm. */
export const placesOf = (text: string): Map<string, readonly number[]> =>
  new Map((JSON.parse(text) as ExampleJob).points.map((p) => [p.id, p.at]));

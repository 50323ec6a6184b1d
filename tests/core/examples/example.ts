import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { type Job, readJob } from '../../../core/job';

const root = resolve(import.meta.dirname, '../../..');

export const exampleNames = ['workboat-hatch', 'trailer-locker', 'machine-guard'] as const;
export type ExampleName = (typeof exampleNames)[number];

export const examplePath = (file: string): string => resolve(root, 'assets/examples', file);
export const fixturePath = (file: string): string => resolve(root, 'tests/fixtures/photos', file);

/** One of the example jobs that come with the program. */
export const shipped = (name: ExampleName): Job => readJob(readFileSync(examplePath(`${name}.lidjob`), 'utf8'));

/** The same; of the workboat an older fit of its strut, in which two things fail: a job with something to mend. */
export const example = (name: ExampleName): Job =>
  name === 'workboat-hatch'
    ? readJob(readFileSync(resolve(root, 'tests/fixtures/jobs/workboat-hatch.lidjob'), 'utf8'))
    : shipped(name);

/** Width and height that a baseline JPEG's frame header states (ITU-T T.81, B.2.2). */
export function jpegSize(path: string): { widthPx: number; heightPx: number } {
  const bytes = readFileSync(path);
  if (bytes.readUInt16BE(0) !== 0xffd8) throw new Error(`${path} does not start as a JPEG does`);
  let at = 2;
  while (at < bytes.length) {
    const marker = bytes.readUInt16BE(at);
    if (marker === 0xffc0) return { heightPx: bytes.readUInt16BE(at + 5), widthPx: bytes.readUInt16BE(at + 7) };
    at += 2 + bytes.readUInt16BE(at + 2);
  }
  throw new Error(`${path} has no frame header`);
}

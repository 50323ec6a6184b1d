import { readFileSync, readdirSync } from 'node:fs';
import { type Job, readJob } from '../../core/job';

const root = new URL('../../', import.meta.url);

/** A file of the repository as text; `path` from its root. */
export const fileText = (path: string): string => readFileSync(new URL(path, root), 'utf8');

/** Absolute path of a file of the repository. */
export const filePath = (path: string): string => decodeURIComponent(new URL(path, root).pathname);

/** Names of the files in a folder of the repository that end in `ending`. */
const filesIn = (folder: string, ending: string): string[] =>
  readdirSync(new URL(folder, root))
    .filter((name) => name.endsWith(ending))
    .sort()
    .map((name) => `${folder}/${name}`);

/** The example jobs, by path. */
export const exampleFiles = (): string[] => filesIn('assets/examples', '.lidjob');
/** The golden jobs, by path. */
export const goldenFiles = (): string[] => filesIn('tests/fixtures/golden', '.lidjob');

/** The second set, with seals, latches, wind and accelerations. */
export const secondGoldenFiles = (): string[] => filesIn('tests/fixtures/golden-2', '.lidjob');

/** Reads a job file of the repository. */
export const jobAt = (path: string): Job => readJob(fileText(path));

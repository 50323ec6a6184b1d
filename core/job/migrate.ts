import { fail } from '../error';
import { showValue } from './number-field';
import { FORMAT, VERSION } from './schema';

type Document = Record<string, unknown>;

const isObject = (value: unknown): value is Document =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/**
 * One step per version, each from the version in its key to the next.
 * Version 0 is made up, to prove the road: it held `angleDeg` for the travel and a bare `hinge: [a, b]`.
 */
const STEPS: Record<number, (old: Document) => Document> = {
  0: (old) => {
    const { angleDeg, hinge, travel, ...rest } = old;
    return {
      ...rest,
      hinge: Array.isArray(hinge) ? { a: hinge[0], b: hinge[1], opens: 'up' } : hinge,
      travel: travel ?? { openDeg: angleDeg, stop: 'lid' },
      version: 1,
    };
  },
};

/**
 * Brings a parsed file to the present version; keys it doesn't know travel along.
 * Throws a LidwrightError for what is no job file, and for one from a newer program.
 */
export function migrate(document: unknown): Document {
  if (!isObject(document))
    return fail(`this is no Lidwright job, but ${showValue(document)}`, [], 'Open a .lidjob file.');
  if (document['format'] !== FORMAT)
    return fail(
      `needs "${FORMAT}", but is ${showValue(document['format'])}`,
      ['format'],
      'Open a .lidjob file that Lidwright saved.',
    );
  const found = document['version'];
  if (typeof found !== 'number' || !Number.isInteger(found) || found < 0)
    return fail(
      `needs a whole number, but is ${showValue(found)}`,
      ['version'],
      `Write ${VERSION}, the present version.`,
    );
  if (found > VERSION)
    return fail(
      `version ${found} is newer than this program knows (${VERSION})`,
      ['version'],
      'Open it with a newer Lidwright. The file was not changed.',
    );
  let current = document;
  for (let version = found; version < VERSION; version++) {
    const step = STEPS[version];
    if (!step)
      return fail(`there is no road from version ${version}`, ['version'], 'Open it with an older Lidwright first.');
    current = step(current);
  }
  return current;
}

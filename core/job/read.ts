import type { z } from 'zod';
import { type Issue, LidwrightError, fail } from '../error';
import { setValue } from './edits';
import { migrate } from './migrate';
import { showValue } from './number-field';
import { jobSchema } from './schema';
import type { Job } from './types';

/** Most issues that one message lists; the count of the rest is said. */
const MOST_ISSUES = 40;

/** Line and column (from 1) of an offset in a text. */
function lineAndColumn(text: string, offset: number): { line: number; column: number } {
  const before = text.slice(0, offset);
  const line = before.split('\n').length;
  return { line, column: offset - before.lastIndexOf('\n') };
}

/** Deeper lists and objects are no job: they only make a parser sweat, and couldn't be written again. */
const MOST_LEVELS = 1000;

/** Offset at which a JSON text goes deeper than MOST_LEVELS, or −1; texts inside quotes are leapt over. */
function tooDeepAt(text: string): number {
  let level = 0;
  for (let i = 0; i < text.length; i++) {
    const char = text[i];
    if (char === '[' || char === '{') {
      if (++level > MOST_LEVELS) return i;
    } else if (char === ']' || char === '}') level--;
    else if (char === '"') {
      let escapes: number;
      do {
        i = text.indexOf('"', i + 1);
        if (i < 0) return -1;
        escapes = 0;
        while (text[i - 1 - escapes] === '\\') escapes++;
      } while (escapes % 2 === 1);
    }
  }
  return -1;
}

/** A JSON text. Throws a LidwrightError with line and column, and what to do. */
export function parseJson(
  text: string,
  advice = 'The file may be torn: open an older copy or the recovered draft.',
): unknown {
  const body = text.startsWith('\uFEFF') ? text.slice(1) : text;
  if (body.trim() === '') return fail('the file is empty', [], 'Open another, or its recovered draft.');
  const deep = tooDeepAt(body);
  if (deep >= 0) {
    const { line, column } = lineAndColumn(body, deep);
    return fail(
      `lists and objects lie more than ${MOST_LEVELS} deep in each other (line ${line}, column ${column})`,
      [],
      'No job goes that deep: open an older copy or the recovered draft.',
    );
  }
  try {
    return JSON.parse(body);
  } catch (error) {
    const message = error instanceof Error ? error.message : '';
    const at = /position (\d+)/.exec(message);
    const ended = /Unexpected end|Unterminated/.test(message);
    const bare = /[:[,\s](NaN|-?Infinity)\b/.exec(body);
    const offset = at ? Number(at[1]) : ended ? body.length : (bare?.index ?? 0);
    const { line, column } = lineAndColumn(body, offset);
    const found = ended
      ? 'the file ends in the middle'
      : bare && Math.abs(bare.index - offset) < 12
        ? `${bare[1]} is no number that a file can hold`
        : 'this is not JSON';
    return fail(`${found} (line ${line}, column ${column})`, [], advice);
  }
}

const ADVICE: Record<string, string> = {
  invalid_type: 'Correct the value in the file.',
  too_big: 'Shorten it.',
  too_small: 'Fill it in.',
};

/** Faults of one alternative that lie deep inside what was given: that is the alternative that was meant. */
function deeper(issue: z.core.$ZodIssue): z.core.$ZodIssue[] {
  if (issue.code !== 'invalid_union') return [issue];
  const meant = issue.errors.find((faults) => faults.length > 0 && faults.every(({ path }) => path.length > 1));
  return meant?.flatMap((fault) => deeper({ ...fault, path: [...issue.path, ...fault.path] })) ?? [issue];
}

/** A fault that a schema found, for a person. */
export function issueOfSchema(issue: z.core.$ZodIssue): Issue {
  return {
    what:
      issue.message.startsWith('Invalid') || issue.message.startsWith('Too')
        ? `${issue.message[0]!.toLowerCase()}${issue.message.slice(1)}, but is ${showValue(issue.input)}`
        : issue.message,
    where: issue.path.filter((p): p is string | number => typeof p !== 'symbol'),
    advice: ADVICE[issue.code] ?? 'Correct the value in the file.',
  };
}

/** Readings that don't say what was on the lid get it written down: all masses but those that were off. */
function withOnWritten(job: Job): Job {
  const { weighings } = job;
  if (!weighings) return job;
  const all = job.masses.map((m) => m.id);
  return (['pulls', 'lifted'] as const).reduce<Job>((next, way) => {
    const { readings = [], off = [] } = weighings[way] ?? {};
    const on = all.filter((id) => !off.includes(id));
    return readings.reduce<Job>(
      (now, r, i) => (r.on ? now : setValue(now, { path: ['weighings', way, 'readings', i, 'on'], value: on })),
      next,
    );
  }, job);
}

/** Shape of a parsed document: migrated and held against the schema; throws a LidwrightError with every fault. */
export function jobFromDocument(document: unknown): Job {
  const migrated = migrate(document);
  const result = jobSchema.safeParse(migrated, { reportInput: true });
  // the document itself is returned, not zod's copy: key order and unknown keys stay as they were
  if (result.success) return withOnWritten(migrated as unknown as Job);
  const all = result.error.issues.flatMap(deeper).map(issueOfSchema);
  const shown = all.slice(0, MOST_ISSUES);
  if (all.length > shown.length)
    shown.push({
      what: `${all.length - shown.length} more faults like these`,
      where: [],
      advice: 'Mend the first ones and open it again.',
    });
  const [first, ...also] = shown;
  throw new LidwrightError(first!, also);
}

/**
 * Reads a job file's text: JSON, migrated to the present version, held against the schema. Unknown keys are kept.
 * Throws a LidwrightError whose issues say what is wrong, where in the file, and what to do.
 */
export const readJob = (text: string): Job => jobFromDocument(parseJson(text));

/** A job as a file's text: the same job gives the same bytes, and readJob gives the same job back. */
export const writeJob = (job: Job): string => `${JSON.stringify(job, null, 1)}\n`;

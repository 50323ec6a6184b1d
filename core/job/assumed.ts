import { type Path, valueAt } from './edits';
import type { Job } from './types';

/** How `assumed` names a place: by section, id and key ("masses.panel.kg"); null for one that has no such name. */
export function assumedName(job: Job, path: Path): string | null {
  const names: (string | number)[] = [];
  let value: unknown = job;
  for (const key of path) {
    value = typeof value === 'object' && value !== null ? (value as Record<string | number, unknown>)[key] : undefined;
    const id = typeof key === 'number' && typeof value === 'object' && value !== null && 'id' in value ? value.id : key;
    if (typeof id !== 'string') return null;
    names.push(id);
  }
  return names.join('.');
}

/** The place that a name of `assumed` means; null where the job has none. */
export function assumedPath(job: Job, name: string): Path | null {
  const path: (string | number)[] = [];
  let value: unknown = job;
  let rest = name;
  while (rest !== '') {
    if (Array.isArray(value)) {
      // an id may hold dots: the longest that fits
      const items = value as readonly { readonly id?: unknown }[];
      const fits = (id: unknown): id is string => typeof id === 'string' && (rest === id || rest.startsWith(`${id}.`));
      const id = items
        .map((item) => item.id)
        .filter(fits)
        .sort((a, b) => b.length - a.length)[0];
      if (id === undefined) return null;
      path.push(items.findIndex((item) => item.id === id));
      rest = rest.slice(id.length + 1);
    } else {
      const [key = ''] = rest.split('.', 1);
      path.push(key);
      rest = rest.slice(key.length + 1);
    }
    value = valueAt(job, path);
    if (value === undefined) return null;
  }
  return path.length > 0 ? path : null;
}

/** Whether nobody has stated the value at a path. */
export const isAssumed = (job: Job, path: Path): boolean =>
  job.assumed !== undefined && job.assumed.includes(assumedName(job, path) ?? '');

/** The job with the value at a path stated as it is. */
export function stated(job: Job, path: Path): Job {
  const name = assumedName(job, path);
  return isAssumed(job, path) ? { ...job, assumed: job.assumed!.filter((other) => other !== name) } : job;
}

/** After an edit: what it changed, or took away, is no longer assumed. */
export function withoutTouched(before: Job, after: Job): Job {
  if (after.assumed === undefined || after.assumed !== before.assumed) return after;
  const left = after.assumed.filter((name) => {
    const path = assumedPath(before, name);
    if (!path) return true; // of a newer program: not ours to judge
    const now = assumedPath(after, name);
    return now !== null && Object.is(valueAt(before, path), valueAt(after, now));
  });
  return left.length === after.assumed.length ? after : { ...after, assumed: left };
}

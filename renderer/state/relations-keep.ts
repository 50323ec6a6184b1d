import { LidwrightError } from '../../core/error';
import type { Job } from '../../core/job';
import { type MovedPoint, relationsOff, settleNear, type RelationQuestion } from '../../core/survey';

/** What an edit comes to once relations are seen to: a job to take over, or a question that takes longer. */
export type EditKept =
  | { readonly job: Job; readonly moved: readonly MovedPoint[] }
  | { readonly question: RelationQuestion };

/** Sections that a relation can depend on. */
const BEARING = ['points', 'relations', 'givens', 'hinge', 'travel', 'struts', 'masses', 'grip'] as const;

/** As near as coordinates of 1e-7 mm can bring relations to hold. */
const EXACTLY = { mm: 1e-6, deg: 1e-6 } as const;

/** The one point that differs, and on which axes; null where more or something else differs. */
function movedPoint(before: Job, after: Job): { id: string; axes: (0 | 1 | 2)[] } | null {
  if (BEARING.some((key) => key !== 'points' && before[key] !== after[key])) return null;
  if (before.points.length !== after.points.length) return null;
  const changed = after.points.filter((p, i) => p !== before.points[i]);
  const [point] = changed;
  const old = before.points.find((p) => p.id === point?.id);
  if (changed.length !== 1 || !point || !old || old.on !== point.on) return null;
  const axes = ([0, 1, 2] as const).filter((k) => point.at[k] !== old.at[k]);
  // a coordinate that a given holds stays by itself
  if (axes.some((k) => typeof point.at[k] !== 'number')) return null;
  return { id: point.id, axes };
}

/** The relation that an edit has changed or added, to be blamed last. */
function newestOf(before: Job, after: Job): string | undefined {
  if (before.relations === after.relations) return undefined;
  const old = new Map((before.relations ?? []).map((r) => [r.id, r]));
  return (after.relations ?? []).find((r) => old.get(r.id) !== r)?.id;
}

/**
 * After an edit: brings the relations to hold again where they held before it, moving points as little as needed. A typed
 * coordinate stays as typed. Where that is not found at once, the question to ask off the main thread. Where relations did
 * not hold before, the edit is taken as it is: the panel tells which are off. Throws a LidwrightError for a changed relation
 * that is not whole.
 */
export function keepRelations(before: Job, after: Job): EditKept {
  const asItIs = { job: after, moved: [] };
  const inUse = (after.relations ?? []).some((r) => r.use !== false);
  if (!inUse || BEARING.every((key) => before[key] === after[key])) return asItIs;
  const newest = newestOf(before, after);
  try {
    if (relationsOff(before).length > 0 || relationsOff(after, EXACTLY).length === 0) return asItIs;
    const put = movedPoint(before, after);
    const kept = settleNear(after, put ?? undefined);
    if (kept) return { job: kept.job, moved: kept.moved.filter((m) => m.id !== put?.id) };
    if (put) return { question: { kind: 'put', job: after, point: put.id, axes: put.axes } };
    return { question: { kind: 'settle', job: after, ...(newest === undefined ? {} : { newest }) } };
  } catch (error) {
    // a job that can't be worked out is said elsewhere; a relation that the person has just spoilt is refused here
    if (error instanceof LidwrightError && newest === undefined) return asItIs;
    throw error;
  }
}

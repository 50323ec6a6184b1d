import { attempt, type Issue } from '../error';
import type { Job, JobRelation } from '../job';
import { type MovedPoint, settle, tryRelation } from './keep';

/** What is asked about relations that may take longer than a page can wait. */
export type RelationQuestion =
  | { readonly kind: 'add'; readonly job: Job; readonly relation: Omit<JobRelation, 'id'> }
  /** All relations of `job` are to hold; `newest` is the one to blame last. */
  | { readonly kind: 'settle'; readonly job: Job; readonly newest?: string }
  /** As settle, and a point's coordinates on these axes stay as they are in `job`: a person has typed them. */
  | { readonly kind: 'put'; readonly job: Job; readonly point: string; readonly axes: readonly (0 | 1 | 2)[] };

export type RelationAnswer =
  | {
      readonly ok: true;
      readonly points: Job['points'];
      readonly relations: Job['relations'];
      readonly moved: readonly MovedPoint[];
    }
  | { readonly ok: false; readonly text: string; readonly fights: readonly string[] }
  | { readonly ok: false; readonly failed: Issue };

/** The job of a question with the answer's points and relations. */
export const answered = (job: Job, answer: Extract<RelationAnswer, { ok: true }>): Job => ({
  ...job,
  points: answer.points,
  ...(answer.relations ? { relations: answer.relations } : {}),
});

/** A stand-in relation that holds what was typed, so that the search may blame others for it. */
function heldAt(q: Extract<RelationQuestion, { kind: 'put' }>): Omit<JobRelation, 'id'> {
  const { at } = q.job.points.find((p) => p.id === q.point)!;
  const [axis] = q.axes;
  return q.axes.length === 1
    ? { kind: 'on-plane', points: [q.point], axis: (['x', 'y', 'z'] as const)[axis!], valueMm: at[axis!] }
    : { kind: 'fixed', points: [q.point], at: [...at] };
}

/** Answers a question; takes from milliseconds to about a second. */
export function answerRelation(q: RelationQuestion): RelationAnswer {
  const { value: kept, error } = attempt(() =>
    q.kind === 'settle'
      ? settle(q.job, q.newest)
      : tryRelation(q.job, { relation: q.kind === 'add' ? q.relation : heldAt(q) }),
  );
  if (error) return { ok: false, failed: error.issues[0]! };
  if (!kept.ok) return { ok: false, text: kept.text, fights: kept.fights };
  return {
    ok: true,
    points: kept.job.points,
    relations: q.kind === 'put' ? q.job.relations : kept.job.relations,
    moved: kept.moved,
  };
}

/** Points that an edit took along, in words; empty where none. Lengths by `show`. */
export function movedText(job: Job, moved: readonly MovedPoint[], show: (mm: number) => string): string {
  const far = [...moved].sort((a, b) => b.byMm - a.byMm);
  const names = far.slice(0, 4).map((m) => `${job.points.find((p) => p.id === m.id)?.name ?? m.id} by ${show(m.byMm)}`);
  if (names.length === 0) return '';
  return `To keep what must hold: ${names.join('; ')}${far.length > 4 ? `; ${far.length - 4} more` : ''}.`;
}

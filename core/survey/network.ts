import { type Issue, LidwrightError } from '../error';
import {
  type Job,
  type JobRelation,
  type Observation,
  type Relation,
  type ResolvedJob,
  jobIssues,
  resolveJob,
} from '../job';
import type { EquationBlock, Problem } from '../solve';
import { type Layout, layOut } from './layout';
import { type PhotoPart, photoPart } from './photo-cameras';
import { readingBlock } from './readings';
import { relationBlocks } from './relations';

export interface Network {
  readonly layout: Layout;
  readonly readings: readonly Observation[];
  readonly relations: readonly Relation[];
  /** Ids of the points that a reading or relation is about. */
  readonly points: ReadonlySet<string>;
  readonly problem: Problem;
  /** Cameras of the photos that are marked; their variables stand behind those of the points. */
  readonly photos: PhotoPart;
}

/** Ids of the points that a relation is about, a strut's pivots included. */
export function pointsOfRelation(r: Relation, job: ResolvedJob): readonly string[] {
  const strut = r.strut === undefined ? undefined : job.struts.find((s) => s.id === r.strut);
  return [...(r.points ?? []), ...(strut ? [strut.base, strut.lid] : [])];
}

/** Kinds that turn about the hinge or lean on it, whichever points they name. */
const onHinge = (r: JobRelation): boolean =>
  r.kind === 'on-circle' || r.kind === 'open-length' || (r.kind === 'mirrored' && r.axis === undefined);

/** Whether a relation in use has a say in where a point goes. */
export function isRelated(job: Job, pointId: string): boolean {
  const hinge = pointId === job.hinge.a || pointId === job.hinge.b;
  return (job.relations ?? []).some((r) => {
    if (r.use === false) return false;
    const strut = r.strut === undefined ? undefined : job.struts.find((s) => s.id === r.strut);
    return (
      (r.points ?? []).includes(pointId) || strut?.base === pointId || strut?.lid === pointId || (hinge && onHinge(r))
    );
  });
}

/** Resolves a job and throws a LidwrightError where its readings or relations refer to what isn't there. */
export function resolveSurvey(raw: Job): ResolvedJob {
  const job = resolveJob(raw);
  const mine = (issue: Issue): boolean =>
    ['observations', 'relations', 'points', 'hinge'].includes(String(issue.where[0]));
  const [first, ...also] = jobIssues(job).filter(mine);
  if (first) throw new LidwrightError(first, also);
  return job;
}

/**
 * Readings and relations that are in use as one problem. Points that neither is about stay where they are, and so do
 * coordinates that givens hold and points that count as known to a photo's camera. Marks of a photo whose camera can't be
 * found are left out.
 */
export function makeNetwork(raw: Job, args: { readonly readings: boolean } = { readings: true }): Network {
  const job = resolveSurvey(raw);
  const layout = layOut(raw, job);
  const used = args.readings ? job.observations.filter((o) => o.use !== false) : [];
  const typed = used.filter((o) => o.kind !== 'photo-mark');
  const relations = job.relations.filter((r) => r.use !== false);
  const tied = new Set([...typed.flatMap((o) => o.points), ...relations.flatMap((r) => pointsOfRelation(r, job))]);
  const photos = photoPart(
    used.filter((o) => o.kind === 'photo-mark'),
    layout,
    tied,
  );
  const marked = new Set(photos.cameras.flatMap((c) => c.marks.map((o) => o.id)));
  const readings = used.filter((o) => o.kind !== 'photo-mark' || marked.has(o.id));
  const points = new Set([...tied, ...readings.flatMap((o) => o.points)]);
  const still = layout.ids.flatMap((id) => (points.has(id) && !photos.known.has(id) ? [] : layout.variablesOf(id)));
  const equations: EquationBlock[] = [
    ...typed.map((o) => readingBlock(o, layout)),
    ...photos.equations,
    ...relations.flatMap((r) => relationBlocks(r, layout)),
  ];
  const variables = Float64Array.from([...layout.values, ...photos.values]);
  for (const [id, at] of photos.starts)
    layout.variablesOf(id).forEach((j, k) => {
      if (!layout.held.includes(j)) variables[j] = at[k]!;
    });
  const problem: Problem = {
    variables,
    equations,
    fixed: [...layout.held, ...still, ...photos.fixed],
    ...(photos.cameras.length > 0 ? { scale: [...layout.values.map(() => 1), ...photos.scale] } : {}),
  };
  return { layout, readings, relations, points, problem, photos };
}

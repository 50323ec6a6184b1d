import type { ResolvedJob } from '../job';
import { mirrorPoint, norm, scale, sub, add, toRad, unit, type Vec3 } from '../space';
import { poseAt } from '../travel';
import type { Workings } from '../workings';
import { pointNames, strutTitle } from './report-tables';

/** A pivot of the layout: where it is with the lid closed and, if it rides on the lid, with the lid open. mm, base frame less datum. */
export interface LayoutPivot {
  readonly id: string;
  readonly name: string;
  readonly closed: Vec3;
  /** null on the base: it stays. */
  readonly open: Vec3 | null;
}

export interface LayoutStrut {
  /** "S1". */
  readonly mark: string;
  readonly name: string;
  readonly base: Vec3;
  readonly lidClosed: Vec3;
  readonly lidOpen: Vec3;
  readonly closedMm: number;
  readonly openMm: number;
  readonly extendedMm: number;
  readonly strokeMm: number;
  readonly tubeMm: number;
  readonly rodMm: number;
  readonly rodAt: 'base' | 'lid';
  /** The mirrored one of a pair: drawn, not dimensioned. */
  readonly twin: boolean;
}

/** A named place that all dimensions run from, mm in the base frame. */
export interface LayoutDatum {
  readonly name: string;
  readonly at: Vec3;
}

/** Everything the layout drawing shows, in mm from the datum. */
export interface LayoutScene {
  readonly openDeg: number;
  readonly pivots: readonly LayoutPivot[];
  readonly struts: readonly LayoutStrut[];
  readonly lidClosed: readonly Vec3[];
  readonly lidOpen: readonly Vec3[];
  readonly hinge: readonly [Vec3, Vec3];
  /** Unit, opening positive. */
  readonly openingAxis: Vec3;
  /** The lid point that shows the opening angle: farthest from the axis. */
  readonly far: { readonly closed: Vec3; readonly open: Vec3 };
  /** A lid point at any opening angle. */
  readonly pose: (closed: Vec3, angleDeg: number) => Vec3;
}

function pivotIds(job: ResolvedJob): string[] {
  const ids = [job.hinge.a, job.hinge.b, ...job.struts.flatMap((s) => [s.base, s.lid])];
  for (const spring of job.springs) ids.push(...[spring.base, spring.lid].filter((id) => id !== undefined));
  ids.push(job.grip);
  return [...new Set(ids)];
}

/** The layout of a job that has been worked out; lengths from the datum (the base frame's origin without one). */
export function layoutScene(outcome: Pick<Workings, 'job' | 'frame'>, datum?: LayoutDatum): LayoutScene {
  const { job, frame } = outcome;
  const zero: Vec3 = datum?.at ?? [0, 0, 0];
  const { axis, openDeg } = frame;
  const from = (p: Vec3): Vec3 => sub(p, zero);
  const at = new Map(job.points.map((p) => [p.id, p]));
  const name = pointNames(job);
  const openRad = toRad(openDeg);
  const place = (id: string): Vec3 => at.get(id)!.at as Vec3;
  const opened = (p: Vec3): Vec3 => poseAt(axis, p, openRad);
  const pivots = pivotIds(job).map((id): LayoutPivot => {
    const p = place(id);
    const onHinge = id === job.hinge.a || id === job.hinge.b;
    return { id, name: name(id), closed: from(p), open: at.get(id)!.on === 'lid' && !onHinge ? from(opened(p)) : null };
  });
  const middle = scale(add(place(job.hinge.a), place(job.hinge.b)), 0.5);
  const struts = job.struts.flatMap((s, i): LayoutStrut[] => {
    const one = (mark: string, base: Vec3, lid: Vec3, twin: boolean): LayoutStrut => ({
      mark,
      name: strutTitle(s, i, job.struts.length),
      base: from(base),
      lidClosed: from(lid),
      lidOpen: from(opened(lid)),
      closedMm: norm(sub(lid, base)),
      openMm: norm(sub(opened(lid), base)),
      extendedMm: s.spec.extendedMm,
      strokeMm: s.spec.strokeMm,
      tubeMm: s.spec.tubeMm,
      rodMm: s.spec.rodMm,
      rodAt: s.rodAt ?? 'lid',
      twin,
    });
    const [base, lid] = [place(s.base), place(s.lid)];
    const own = one(`S${i + 1}`, base, lid, false);
    if (s.quantity !== 2) return [own];
    const turned = (p: Vec3): Vec3 => mirrorPoint(p, middle, axis.along);
    return [own, one(`S${i + 1}`, turned(base), turned(lid), true)];
  });
  const outline = job.outline.map(place);
  const candidates = [...outline, place(job.grip)];
  const reach = (p: Vec3): number => {
    const arm = sub(p, axis.origin);
    const along = arm[0] * axis.along[0] + arm[1] * axis.along[1] + arm[2] * axis.along[2];
    return norm(sub(arm, scale(axis.along, along)));
  };
  const far = candidates.reduce((best, p) => (reach(p) > reach(best) ? p : best));
  return {
    openDeg,
    pivots,
    struts,
    lidClosed: outline.map(from),
    lidOpen: outline.map((p) => from(opened(p))),
    hinge: [from(place(job.hinge.a)), from(place(job.hinge.b))],
    openingAxis: unit(axis.opening),
    far: { closed: from(far), open: from(opened(far)) },
    pose: (closed, angleDeg) => from(poseAt(axis, add(closed, zero), toRad(angleDeg))),
  };
}

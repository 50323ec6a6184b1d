import type { Observation, ResolvedJob } from '../../../core/job';
import { type SurveyPoint, type SurveyResult, ellipseFactor } from '../../../core/survey';
import { type Rad, type Vec3, add, norm, scale, sub, toRad, axisVec } from '../../../core/space';
import { type Axis, poseAt } from '../../../core/travel';
import type { Plane } from '../../state/planes';

/** A reading as it is drawn: lines between the points it is about, each where the lid stood when it was read. */
export interface ReadingMark {
  readonly id: string;
  readonly lines: readonly (readonly [Vec3, Vec3])[];
  /** Where its mark stands: the middle of the first line, or the point. */
  readonly middle: Vec3;
  readonly look: 'fits' | 'suspicious' | 'uncontrolled' | 'off' | 'unknown';
  readonly chosen: boolean;
}

/** A 95 % error ellipse, mm, turned from the view's across axis towards its up axis. */
export interface EllipseMark {
  readonly at: Vec3;
  readonly majorMm: number;
  readonly minorMm: number;
  readonly angleRad: Rad;
}

/** Length of a coordinate reading's line towards its datum, mm, where the datum itself is farther. */
const STUB_MM = 70;

/** Where each reading of a job is drawn. `result` may be of an older job: what it does not know is drawn plainly. */
export function readingMarks(
  job: ResolvedJob,
  axis: Axis | null,
  result: SurveyResult | null,
  chosen: string | null,
): ReadingMark[] {
  const points = new Map(job.points.map((p) => [p.id, p]));
  const tested = new Map(result?.readings.map((r) => [r.id, r.verdict]));
  return job.observations.flatMap((o): ReadingMark[] => {
    const turn = o.atDeg ? toRad(o.atDeg) : 0;
    const ends = o.points.flatMap((id): Vec3[] => {
      const p = points.get(id);
      if (!p) return [];
      return [turn !== 0 && axis && p.on === 'lid' ? poseAt(axis, p.at, turn) : p.at];
    });
    if (ends.length !== o.points.length || ends.length === 0) return [];
    const lines = linesOf(o, ends);
    const first = lines[0];
    return [
      {
        id: o.id,
        lines,
        middle: first ? scale(add(first[0], first[1]), 0.5) : ends[0]!,
        look: o.use === false ? 'off' : (tested.get(o.id) ?? 'unknown'),
        chosen: o.id === chosen,
      },
    ];
  });
}

function linesOf(o: Observation, p: readonly Vec3[]): [Vec3, Vec3][] {
  const [a, b, c, d] = p as [Vec3, Vec3, Vec3, Vec3];
  switch (o.kind) {
    case 'tape':
    case 'known-length':
    case 'mirror-twin':
    case 'angle-level':
      return [[a, b]];
    case 'height-difference': {
      // level from the first point, then up or down to the second, as it is measured
      const corner: Vec3 = [b[0], b[1], a[2]];
      return [
        [corner, b],
        [a, corner],
      ];
    }
    case 'coordinate': {
      const k = { x: 0, y: 1, z: 2 }[o.axis ?? 'x'];
      const datum = o.datumMm ?? 0;
      const reach = Math.sign(datum - a[k]!) * Math.min(STUB_MM, Math.abs(datum - a[k]!));
      return [[a, add(a, scale(axisVec(k), reach))]];
    }
    case 'on-line':
      return [
        [b, c],
        [b, a],
      ];
    case 'square-corner':
      return [
        [a, b],
        [a, c],
      ];
    case 'rectangle':
      return [
        [a, b],
        [b, c],
        [c, d],
        [d, a],
      ];
    case 'on-plane':
      return [
        [b, c],
        [c, d],
        [d, b],
      ];
    case 'angle-between':
      return [
        [a, b],
        [c, d],
      ];
    case 'photo-mark':
      return [];
  }
}

/** 95 % ellipses of the points that are held, as one view shows them. */
export const ellipseMarks = (points: readonly SurveyPoint[], plane: Plane): EllipseMark[] => {
  const factor = ellipseFactor(0.95);
  return points.flatMap((p) => {
    const e = p.ellipses?.[plane];
    return e ? [{ at: p.at, majorMm: e.majorMm * factor, minorMm: e.minorMm * factor, angleRad: e.angleRad }] : [];
  });
};

/** Directions in which points are free, and where those points are. */
export const freeMarks = (points: readonly SurveyPoint[]): { at: Vec3; along: readonly Vec3[] }[] =>
  points.filter((p) => p.canMove.length > 0 && p.canMove.length < 3).map((p) => ({ at: p.at, along: p.canMove }));

/** How far the readings would move each point: from where the job has it to where they put it. */
export const moveMarks = (points: readonly SurveyPoint[], job: ResolvedJob): [Vec3, Vec3][] =>
  points.flatMap((p): [Vec3, Vec3][] => {
    const from = job.points.find((q) => q.id === p.id)?.at;
    return from && p.canMove.length === 0 && norm(sub(p.at, from)) > 1e-3 ? [[from, p.at]] : [];
  });

/** Semi-axis, in pixels, at which an ellipse is well seen; larger ones are never magnified. */
const SEEN_PX = 9;
const STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000] as const;

/** One magnification for all ellipses of the sheet: the least round one that makes the middle-sized one well seen. */
export function magnification(points: readonly SurveyPoint[], pxPerMm: number): number {
  const sizes = (['side', 'top', 'front'] as const)
    .flatMap((plane) => ellipseMarks(points, plane).map((e) => e.majorMm))
    .filter((mm) => mm > 1e-6)
    .sort((a, b) => a - b);
  if (sizes.length === 0) return 1;
  const middle = sizes[Math.floor(sizes.length / 2)]!;
  return STEPS.find((k) => k * middle * pxPerMm >= SEEN_PX) ?? STEPS.at(-1)!;
}

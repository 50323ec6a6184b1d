import { attempt } from '../error';
import type { EndName, ResolvedJob } from '../job';
import {
  type Vec3,
  add,
  asin,
  cos,
  cross,
  dot,
  mirrorPoint,
  norm,
  perpendicularTo,
  rad,
  rotateVec,
  scale,
  sin,
  sub,
  toDeg,
  toRad,
  unit,
} from '../space';
import { stemOf } from './plan';
import { type Axis, poseAt, turned, turning } from './pose';
import type { StrutTable } from './sweep';

/** Slack of "within its stroke" and "within its range" for what is only looked at, mm and degrees. */
const SEEN_MM = 1e-6;
const SEEN_DEG = 1e-9;

/** A point of the job with the lid at angleDeg, mm: those on the lid turn. Without an axis everything stands as closed. */
export const posedPoint = (
  point: { readonly on: string; readonly at: Vec3 },
  axis: Axis | null,
  angleDeg: number,
): Vec3 => (axis && point.on === 'lid' ? poseAt(axis, point.at, toRad(angleDeg)) : point.at);

/** The way of a lid point from closed to open, mm: steps + 1 places at equal angles. Nothing without an axis. */
export function sweptPath(axis: Axis | null, closedAt: Vec3, openDeg: number, steps: number): Vec3[] {
  if (!axis) return [];
  const arm = turning(sub(closedAt, axis.origin), axis.opening);
  return Array.from({ length: steps + 1 }, (_, i) => add(axis.origin, turned(arm, toRad((openDeg * i) / steps))));
}

/** The circle of a radius about the hinge in the plane of p square to it, mm: steps + 1 places, the last on the first. */
export function circleAbout(axis: Axis, p: Vec3, radiusMm: number, steps: number): Vec3[] {
  const arm = sub(p, axis.origin);
  const centre = add(axis.origin, scale(axis.along, dot(arm, axis.along)));
  const out = perpendicularTo(arm, axis.along);
  const e = norm(out) > 1e-9 ? unit(out) : unit(perpendicularTo([0, 0, 1], axis.along));
  const f = cross(axis.along, e);
  return Array.from({ length: steps + 1 }, (_, i) => {
    const a = (2 * Math.PI * i) / steps;
    return add(centre, add(scale(e, radiusMm * cos(rad(a))), scale(f, radiusMm * sin(rad(a)))));
  });
}

/** A joint of a strut as it stands: unit stem and normal of its mount (null for a bare stem), and how it is met. */
export interface PosedJoint {
  readonly end: EndName;
  readonly at: Vec3;
  readonly stem: Vec3;
  readonly normal: Vec3 | null;
  readonly rangeDeg: number;
  /** |90° − φ|, and whether that is more than the range. */
  readonly deviationDeg: number;
  readonly out: boolean;
}

/** A strut as it stands, mm. */
export interface PosedStrut {
  readonly id: string;
  readonly base: Vec3;
  readonly lid: Vec3;
  /** Mirror image of a pair; null for a single strut. */
  readonly twin: { readonly base: Vec3; readonly lid: Vec3 } | null;
  readonly lengthMm: number;
  readonly compressedMm: number;
  readonly extendedMm: number;
  readonly strokeMm: number;
  /** Its length lies within its stroke. */
  readonly inside: boolean;
  readonly rodMm: number;
  readonly tubeMm: number;
  readonly joints: readonly PosedJoint[];
}

/**
 * A strut with the lid at angleDeg, for looking at: null where one of its points is missing. A stem that can't be is drawn
 * athwart (the findings tell of it); without an axis (null) everything stands as closed.
 */
export function posedStrut(
  job: ResolvedJob,
  strut: ResolvedJob['struts'][number],
  axis: Axis | null,
  angleDeg: number,
): PosedStrut | null {
  const point = (id: string): ResolvedJob['points'][number] | undefined => job.points.find((p) => p.id === id);
  const [from, to, a, b] = [strut.base, strut.lid, job.hinge.a, job.hinge.b].map(point);
  if (!from || !to) return null;
  const [base, lid] = [posedPoint(from, axis, angleDeg), posedPoint(to, axis, angleDeg)];
  const span = sub(lid, base);
  const lengthMm = norm(span);
  const u: Vec3 = lengthMm > 1e-9 ? scale(span, 1 / lengthMm) : [0, 0, 1];
  const pose = (v: Vec3, end: EndName): Vec3 =>
    end === 'lid' && axis ? rotateVec(v, axis.opening, toRad(angleDeg)) : v;
  const joint = (end: EndName): PosedJoint => {
    const spec = strut.ends[end];
    // a stem that can't be is told by the findings; the drawing shows the pivot alone
    const stem = pose(attempt(() => stemOf(spec)).value ?? [0, 1, 0], end);
    const deviationDeg = toDeg(asin(Math.min(1, Math.abs(dot(stem, u)))));
    const { mount, rangeDeg } = spec;
    return {
      end,
      at: end === 'base' ? base : lid,
      stem,
      normal: mount && norm(mount.normal) > 0 ? pose(unit(mount.normal), end) : null,
      rangeDeg,
      deviationDeg,
      out: deviationDeg > rangeDeg + SEEN_DEG,
    };
  };
  const along = axis?.along ?? (a && b && norm(sub(b.at, a.at)) > 0 ? unit(sub(b.at, a.at)) : null);
  const middle = a && b ? scale(add(a.at, b.at), 0.5) : null;
  const { extendedMm, strokeMm, rodMm, tubeMm } = strut.spec;
  return {
    ...{ id: strut.id, base, lid, lengthMm, extendedMm, strokeMm, rodMm, tubeMm },
    twin:
      strut.quantity === 2 && middle && along
        ? { base: mirrorPoint(base, middle, along), lid: mirrorPoint(lid, middle, along) }
        : null,
    compressedMm: extendedMm - strokeMm,
    inside: lengthMm <= extendedMm + SEEN_MM && lengthMm >= extendedMm - strokeMm - SEEN_MM,
    joints: [joint('base'), joint('lid')],
  };
}

/** At each place of a swept path, whether a joint of the strut is out of its range there; the nearest table row answers. */
export function outOfRangeAlong(
  ends: ResolvedJob['struts'][number]['ends'],
  row: Pick<StrutTable, 'baseJointDeg' | 'lidJointDeg'>,
  steps: number,
): boolean[] {
  const last = row.baseJointDeg.length - 1;
  return Array.from({ length: steps + 1 }, (_, i) => {
    const j = Math.min(last, Math.round((i / steps) * last));
    return (
      Math.abs(90 - row.baseJointDeg[j]!) > ends.base.rangeDeg || Math.abs(90 - row.lidJointDeg[j]!) > ends.lid.rangeDeg
    );
  });
}

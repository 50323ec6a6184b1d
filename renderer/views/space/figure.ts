import { lidEdges } from '../../../core/clearance';
import type { ResolvedJob, Strut } from '../../../core/job';
import { type Vec3, add, areaVector, boxMiddle, mirrorPoint, norm, scale, sub, toRad } from '../../../core/space';
import { type StrutSplit, splitStrut } from '../../../core/strut';
import { type Axis, type Turning, openingAxis, rodEndOf, stemOf, turned, turning } from '../../../core/travel';
import { attempt } from '../../../core/error';
import type { Workings } from '../../../core/workings';

/** A point that may turn with the lid. */
export interface Spot {
  readonly id: string;
  readonly closed: Vec3;
  /** From the hinge's point A; null for a point of the base, or when there is no axis. */
  readonly turning: Turning | null;
}

export interface JointFigure {
  readonly stemClosed: Vec3 | null;
  readonly stem: Turning | null;
  readonly rangeDeg: number;
}

/** One strut that is drawn: a strut of quantity 2 gives two, the second mirrored. */
export interface StrutFigure {
  readonly id: string;
  readonly twin: boolean;
  readonly spec: Strut['spec'];
  readonly base: Spot;
  readonly lid: Spot;
  readonly ends: { readonly base: JointFigure; readonly lid: JointFigure };
  readonly rodAtBase: boolean;
}

/** What a job looks like, apart from its opening angle. */
export interface Figure {
  readonly axis: Axis | null;
  readonly openDeg: number;
  readonly spots: ReadonlyMap<string, Spot>;
  readonly outline: readonly Spot[];
  /** Edges of the lid's panel and loads, closed. */
  readonly bodies: readonly (readonly Vec3[])[];
  readonly struts: readonly StrutFigure[];
  readonly hinge: readonly [Vec3, Vec3];
  readonly grip: Spot | null;
}

/** The axis, or null where the job has none (its hinge points fall together, or its opening sense can't be told). */
function axisOf(job: ResolvedJob, outcome: Workings | null): Axis | null {
  if (outcome) return outcome.frame.axis;
  const at = (id: string): Vec3 | undefined => job.points.find((p) => p.id === id)?.at;
  const a = at(job.hinge.a);
  const b = at(job.hinge.b);
  const known = job.grip && at(job.grip) && job.masses.every((m) => at(m.at));
  if (!a || !b || !known || !(norm(sub(b, a)) > 0)) return null;
  return attempt(() => openingAxis(job)).value;
}

function stemOrNull(end: Strut['ends']['base']): Vec3 | null {
  return attempt(() => stemOf(end)).value;
}

/** Prepares the figure of a job; never throws for a job that can't be computed, but leaves out what has no place. */
export function figureOf(job: ResolvedJob, outcome: Workings | null): Figure {
  const axis = axisOf(job, outcome);
  const spotAt = (id: string, at: Vec3, rides: boolean): Spot => ({
    id,
    closed: at,
    turning: rides && axis ? turning(sub(at, axis.origin), axis.opening) : null,
  });
  const spots = new Map<string, Spot>();
  for (const p of job.points) spots.set(p.id, spotAt(p.id, p.at, p.on === 'lid'));
  const middle = (): Vec3 => {
    const a = spots.get(job.hinge.a)!.closed;
    const b = spots.get(job.hinge.b)!.closed;
    return scale(add(a, b), 0.5);
  };
  const struts: StrutFigure[] = [];
  for (const strut of job.struts) {
    const base = spots.get(strut.base);
    const lid = spots.get(strut.lid);
    if (!base || !lid) continue;
    const stems = { base: stemOrNull(strut.ends.base), lid: stemOrNull(strut.ends.lid) };
    const joint = (end: 'base' | 'lid', stem: Vec3 | null): JointFigure => ({
      stemClosed: stem,
      stem: end === 'lid' && stem && axis ? turning(stem, axis.opening) : null,
      rangeDeg: strut.ends[end].rangeDeg,
    });
    const common = { id: strut.id, spec: strut.spec, rodAtBase: rodEndOf(strut, base.closed, lid.closed) === 'base' };
    struts.push({
      ...common,
      twin: false,
      base,
      lid,
      ends: { base: joint('base', stems.base), lid: joint('lid', stems.lid) },
    });
    if (strut.quantity !== 2 || !axis) continue;
    const centre = middle();
    const flip = (v: Vec3 | null): Vec3 | null => v && mirrorPoint(v, [0, 0, 0], axis.along);
    struts.push({
      ...common,
      twin: true,
      base: spotAt(base.id, mirrorPoint(base.closed, centre, axis.along), false),
      lid: spotAt(lid.id, mirrorPoint(lid.closed, centre, axis.along), true),
      ends: { base: joint('base', flip(stems.base)), lid: joint('lid', flip(stems.lid)) },
    });
  }
  return {
    axis,
    openDeg: outcome ? outcome.frame.openDeg : job.travel.openDeg,
    spots,
    bodies: axis ? lidEdges(job, axis) : [],
    outline: job.outline.map((id) => spots.get(id)).filter((s) => s !== undefined),
    struts,
    hinge: [spots.get(job.hinge.a)?.closed ?? [0, 0, 0], spots.get(job.hinge.b)?.closed ?? [0, 0, 0]],
    grip: spots.get(job.grip) ?? null,
  };
}

/** Where a spot is with the lid at angleDeg, mm. */
export function spotAt(figure: Figure, spot: Spot, angleDeg: number): Vec3 {
  if (!spot.turning || !figure.axis) return spot.closed;
  return add(figure.axis.origin, turned(spot.turning, toRad(angleDeg)));
}

/** A joint's stem with the lid at angleDeg, unit. */
export const stemAt = (joint: JointFigure, angleDeg: number): Vec3 | null =>
  joint.stem ? turned(joint.stem, toRad(angleDeg)) : joint.stemClosed;

export interface StrutPose {
  readonly base: Vec3;
  readonly lid: Vec3;
  readonly lengthMm: number;
  /** Unit, base to lid; null when both ends are at one place. */
  readonly direction: Vec3 | null;
  readonly split: StrutSplit;
}

export function strutPose(figure: Figure, strut: StrutFigure, angleDeg: number): StrutPose {
  const base = spotAt(figure, strut.base, angleDeg);
  const lid = spotAt(figure, strut.lid, angleDeg);
  const d = sub(lid, base);
  const lengthMm = norm(d);
  return {
    base,
    lid,
    lengthMm,
    direction: lengthMm > 1e-9 ? scale(d, 1 / lengthMm) : null,
    split: splitStrut(lengthMm, strut.spec),
  };
}

/** Path of a spot over the whole travel, from closed to open, in `count` points (2 or more). */
export const pathOf = (figure: Figure, spot: Spot, count: number): Vec3[] =>
  Array.from({ length: Math.max(2, count) }, (_, i) =>
    spotAt(figure, spot, (figure.openDeg * i) / (Math.max(2, count) - 1)),
  );

/** Corners that sweep: those further off the axis than a fifth of the furthest. */
export function sweepingCorners(figure: Figure): Spot[] {
  const arm = (s: Spot): number => (s.turning ? norm(s.turning.even) : 0);
  const widest = Math.max(0, ...figure.outline.map(arm));
  return figure.outline.filter((s) => arm(s) > 0.2 * widest);
}

/** Everything that should be in view, closed, half open and open, mm. Never empty. */
export function extentOf(figure: Figure): Vec3[] {
  const all: Vec3[] = [...figure.hinge];
  for (const angle of [0, figure.openDeg / 2, figure.openDeg]) {
    for (const spot of figure.spots.values()) all.push(spotAt(figure, spot, angle));
    for (const strut of figure.struts)
      if (strut.twin) all.push(spotAt(figure, strut.base, angle), spotAt(figure, strut.lid, angle));
  }
  return all.filter((p) => p.every(Number.isFinite));
}

/** Unit normals of the outline closed, half open and open; empty without an outline. */
export function lidNormals(figure: Figure): Vec3[] {
  return [0, 0.5, 1].flatMap((part) => {
    const n = areaVector(figure.outline.map((s) => spotAt(figure, s, figure.openDeg * part)));
    return norm(n) > 0 ? [scale(n, 1 / norm(n))] : [];
  });
}

/** From the middle of the scene to what a person stands before: the first strut, and the grip side of the hinge. */
export function nearSide(figure: Figure): Vec3 {
  const middle = boxMiddle(extentOf(figure));
  const toward = (p: Vec3): Vec3 => {
    const d: Vec3 = [p[0] - middle[0], p[1] - middle[1], 0];
    const length = norm(d);
    return length > 0 ? scale(d, 1 / length) : d;
  };
  const strut = figure.struts[0];
  const side = strut ? toward(scale(add(strut.base.closed, strut.lid.closed), 0.5)) : ([0, 0, 0] as const);
  return figure.grip ? add(side, scale(toward(figure.grip.closed), 0.9)) : side;
}

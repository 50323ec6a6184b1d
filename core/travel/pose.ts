import { fail } from '../error';
import type { ResolvedJob } from '../job';
import {
  type Rad,
  type Vec3,
  acos,
  add,
  atan2,
  cos,
  cross,
  dot,
  norm,
  perpendicularTo,
  rad,
  scale,
  sin,
  sub,
  unit,
} from '../space';

/** Under this share of its arm a first-order rise counts as none. */
const NO_RISE = 1e-9;
/** A unit axis whose horizontal part is no more than this stands upright. */
const UPRIGHT = 1e-9;

/** The hinge as the kernel uses it. */
export interface Axis {
  /** Hinge point A, mm. */
  readonly origin: Vec3;
  /** Unit vector A → B. */
  readonly along: Vec3;
  /** ±along, so that a positive angle opens. */
  readonly opening: Vec3;
  readonly sign: 1 | -1;
  /** |AB|, mm. */
  readonly spanMm: number;
}

/** A vector that turns about the opening axis: v(θ) = fixed + even·cos θ + odd·sin θ. */
export interface Turning {
  readonly fixed: Vec3;
  readonly even: Vec3;
  readonly odd: Vec3;
}

/** Splits a vector for turning about the unit axis (Rodrigues' formula with its three parts kept apart). */
export function turning(v: Vec3, axis: Vec3): Turning {
  const even = perpendicularTo(v, axis);
  return { fixed: sub(v, even), even, odd: cross(axis, v) };
}

/** v(θ) for a turning vector. */
export const turned = (t: Turning, angle: Rad): Vec3 =>
  add(add(t.fixed, scale(t.even, cos(angle))), scale(t.odd, sin(angle)));

/** First-order rise per radian over the arm, or 0 when the point is on the axis. */
function rise(axis: Vec3, arm: Vec3): number {
  const r = norm(perpendicularTo(arm, axis));
  return r > 0 ? cross(axis, arm)[2] / r : 0;
}

/**
 * The hinge axis with its opening sense: base level and all masses on, the sense that at first raises (opens "up") or
 * lowers ("down") the common centre of mass; where that does neither, the grip decides. Of an upright hinge "up" opens
 * anticlockwise seen from above, "down" clockwise.
 * Throws a LidwrightError when neither rises nor falls. The job must have passed assertComputable.
 */
export function openingAxis(job: Pick<ResolvedJob, 'points' | 'hinge' | 'masses' | 'grip'>): Axis {
  const at = new Map(job.points.map((p) => [p.id, p.at]));
  const origin = at.get(job.hinge.a) as Vec3;
  const span = sub(at.get(job.hinge.b) as Vec3, origin);
  const along = unit(span);
  const axis = (rises: boolean): Axis => {
    const sign = rises === (job.hinge.opens === 'up') ? 1 : -1;
    return { origin, along, opening: scale(along, sign), sign, spanMm: norm(span) };
  };
  if (Math.hypot(along[0], along[1]) <= UPRIGHT) return axis(along[2] > 0);
  let massKg = 0;
  let first: Vec3 = [0, 0, 0];
  for (const mass of job.masses) {
    massKg += mass.kg;
    first = add(first, scale(sub(at.get(mass.at) as Vec3, origin), mass.kg));
  }
  let lift = massKg > 0 ? rise(along, first) : 0;
  if (Math.abs(lift) < NO_RISE) lift = rise(along, sub(at.get(job.grip) as Vec3, origin));
  if (Math.abs(lift) < NO_RISE)
    return fail(
      'neither the masses nor the grip rise or fall when the lid begins to turn, so "up" and "down" say nothing',
      ['grip'],
      'Put the grip where it moves up or down at first, or tilt the hinge to its true slope.',
    );
  return axis(lift > 0);
}

/** Where a lid point is with the lid at angleRad, mm, base frame. */
export const poseAt = (axis: Axis, closedAt: Vec3, angleRad: Rad): Vec3 =>
  add(axis.origin, turned(turning(sub(closedAt, axis.origin), axis.opening), angleRad));

/** Where a lid point that is seen at `at` with the lid at angleRad lies with the lid closed: the inverse of poseAt. */
export const closedFrom = (axis: Axis, at: Vec3, angleRad: Rad): Vec3 => poseAt(axis, at, rad(-angleRad));

/** Squared length between a fixed and a turning point: ℓ² = k + p·cos θ + q·sin θ. */
export interface LengthLaw {
  readonly k: number;
  readonly p: number;
  readonly q: number;
}

/** The length law of a strut: base pivot fixed, lid pivot turning; both given from the axis origin, mm. */
export function lengthLaw(base: Vec3, lid: Turning): LengthLaw {
  // |fixed + even·c + odd·s − base|²; even, odd and fixed are square to each other and |even| = |odd|
  const d = sub(lid.fixed, base);
  return { k: dot(d, d) + dot(lid.even, lid.even), p: 2 * dot(lid.even, d), q: 2 * dot(lid.odd, d) };
}

/** The same direction in [0, 2π). */
const wrap = (angle: number): Rad => rad(((angle % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI));

/** All θ in (0, 2π) where the length is lengthMm, ascending; exact, no search. Touching counts once. */
export function anglesOfLength(law: LengthLaw, lengthMm: number): Rad[] {
  const amplitude = Math.hypot(law.p, law.q);
  const level = (lengthMm * lengthMm - law.k) / amplitude;
  if (!(Math.abs(level) <= 1)) return [];
  const middle = atan2(law.q, law.p);
  const half = acos(level);
  const found = [wrap(middle - half), wrap(middle + half)].filter((x) => x > 0).sort((a, b) => a - b);
  return found.length === 2 && found[0] === found[1] ? [found[0]!] : found;
}

/** θ in [0, 2π) where the length neither grows nor shrinks: the dead centres, longest first. Empty when it never changes. */
export function deadCentres(law: LengthLaw): Rad[] {
  if (!(Math.hypot(law.p, law.q) > 0)) return [];
  const longest = atan2(law.q, law.p);
  return [wrap(longest), wrap(longest + Math.PI)];
}

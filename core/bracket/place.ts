import { fail } from '../error';
import type { Strut } from '../job';
import { mountFrame, stemFromMount } from '../joint';
import {
  type Vec3,
  add,
  angleBetween,
  atan2,
  cos,
  cross,
  dot,
  isFiniteVec,
  norm,
  perpendicularTo,
  rad,
  scale,
  sin,
  sub,
  toDeg,
  toRad,
  unit,
} from '../space';
import { ballAt, isPinned, stemOfBracket } from './body';
import type { BracketSpec } from './types';

/** Where the bracket frame (see types.ts) lies in the frame that the inputs are given in (base or lid). */
export interface BracketPlacement {
  readonly originMm: Vec3;
  readonly axes: { readonly x: Vec3; readonly y: Vec3; readonly z: Vec3 };
  /** The bracket's stem there, unit: from the stud's root to the ball. */
  readonly stem: Vec3;
}

/** A vector of the bracket frame in the frame of its placement. */
export const outOfBracket = ({ axes }: BracketPlacement, v: Vec3): Vec3 =>
  add(scale(axes.x, v[0]), add(scale(axes.y, v[1]), scale(axes.z, v[2])));

/** Azimuth of the bracket's stem about z from its x axis, rad; a stem square to the mount counts as along x, a wedge plate's as its lean says. */
export function ownAzimuthRad(spec: BracketSpec): number {
  if (spec.wedge) return toRad(spec.wedge.directionDeg + 180);
  const [x, y] = stemOfBracket(spec);
  return x === 0 && y === 0 ? 0 : atan2(y, x);
}

/**
 * Puts a bracket so that its ball is at `ball`, its underside faces the mount, and its stem points over `azimuthDirection` (a stem square to the
 * mount: its x axis does). `mountNormal` and `azimuthDirection` need not be unit; the azimuth is taken at right angles to the normal.
 * Throws a LidwrightError when they are parallel, zero or not finite.
 */
export function placeBracket(input: {
  readonly ball: Vec3;
  readonly mountNormal: Vec3;
  readonly azimuthDirection: Vec3;
  readonly spec: BracketSpec;
}): BracketPlacement {
  const { ball, mountNormal, azimuthDirection, spec } = input;
  if (!isFiniteVec(ball)) fail('the ball centre is not a point.', ['ball'], 'Give three numbers in mm.');
  const local = ballAt(spec);
  if (!isFiniteVec(local))
    fail(
      `the ball offset is ${spec.ballOffsetMm}.`,
      ['ballOffsetMm'],
      'Give a length in mm, and all sizes of the bracket.',
    );
  if (!isFiniteVec(mountNormal) || norm(mountNormal) === 0)
    fail('the mount normal has no direction.', ['mountNormal'], 'Give at least one component that is not 0.');
  if (!isFiniteVec(azimuthDirection) || norm(azimuthDirection) === 0)
    fail('the azimuth has no direction.', ['azimuthDirection'], 'Give at least one component that is not 0.');
  const z = unit(mountNormal);
  const lying = perpendicularTo(unit(azimuthDirection), z);
  if (norm(lying) < 1e-9)
    fail(
      'the azimuth direction is parallel to the mount normal.',
      ['azimuthDirection'],
      'Turn it into the mount surface.',
    );
  const over = unit(lying);
  const own = ownAzimuthRad(spec);
  const x = own === 0 ? over : unit(add(scale(over, cos(rad(own))), scale(cross(z, over), -sin(rad(own)))));
  const axes = { x, y: cross(z, x), z };
  const placed = { originMm: ball, axes, stem: ball };
  return {
    originMm: sub(ball, outOfBracket(placed, local)),
    axes,
    stem: outOfBracket(placed, stemOfBracket(spec)),
  };
}

type StrutEnd = Strut['ends']['base'];

/** How a bracket stands at a strut's end. */
export interface BracketStand extends BracketPlacement {
  /** Angle between the end's stem in the job and where this bracket holds it, degrees; a channel's pin has no sense: 0 to 90. */
  readonly stemMismatchDeg: number;
  /** Azimuth and tilt of this bracket's stem on the end's mount, degrees. */
  readonly azimuthDeg: number;
  readonly tiltDeg: number;
}

const NEARLY_SQUARE = 1e-6;

/** Angle between a strut end's stem and the stem as this bracket holds it, degrees, both in one frame. */
export function stemMismatchDeg(spec: BracketSpec, held: Vec3, wanted: Vec3): number {
  const deg = toDeg(angleBetween(held, wanted));
  return isPinned(spec) ? Math.min(deg, 180 - deg) : deg;
}

/**
 * Stands a bracket on the mount of a strut's end with its ball at `ball` (mm, axes of that end's body), turned to the azimuth of the end's stem, or to
 * the azimuth typed where the stem stands square to the mount; null for an end without a mount, where nobody knows which way the surface faces.
 * Throws as `placeBracket` does.
 */
export function standBracket(input: {
  readonly end: StrutEnd;
  readonly ball: Vec3;
  readonly spec: BracketSpec;
}): BracketStand | null {
  const { end, ball, spec } = input;
  const { mount } = end;
  if (!mount) return null;
  const azimuth = toRad(end.azimuthDeg ?? 0);
  const wanted = end.stem ? unit(end.stem) : stemFromMount(mount, azimuth, toRad(end.tiltDeg ?? 0));
  const lying = end.stem ? perpendicularTo(wanted, unit(mount.normal)) : [0, 0, 0];
  const azimuthDirection =
    norm(lying as Vec3) > NEARLY_SQUARE ? (lying as Vec3) : stemFromMount(mount, azimuth, rad(0));
  const placed = placeBracket({ ball, mountNormal: mount.normal, azimuthDirection, spec });
  const { e, side, m } = mountFrame(mount);
  const { stem } = placed;
  const inPlane = Math.hypot(dot(stem, e), dot(stem, side));
  return {
    ...placed,
    stemMismatchDeg: stemMismatchDeg(spec, stem, wanted),
    azimuthDeg: inPlane < NEARLY_SQUARE ? (end.azimuthDeg ?? 0) : toDeg(atan2(dot(stem, side), dot(stem, e))),
    tiltDeg: toDeg(atan2(dot(stem, m), inPlane)),
  };
}

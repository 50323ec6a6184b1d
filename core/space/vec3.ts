import { fail } from '../error';
import { type Rad, atan2, rad } from './angle';

/** A point or direction [x, y, z]; lengths in mm unless the name says otherwise. Never changed in place. */
export type Vec3 = readonly [number, number, number];

/** The first three numbers of a list. @example toVec3([1, 2, 3, 4]) // [1, 2, 3] */
export const toVec3 = (values: ArrayLike<number>): Vec3 => [values[0]!, values[1]!, values[2]!];

/** Each component through f, which is told whether it is X, Y or Z: 0, 1 or 2. @example mapVec([1, 2, 3], (v, k) => v * k) // [0, 2, 6] */
export const mapVec = (a: Vec3, f: (component: number, k: 0 | 1 | 2) => number): Vec3 => [
  f(a[0], 0),
  f(a[1], 1),
  f(a[2], 2),
];

/** The unit vector along X, Y or Z: 0, 1 or 2. @example axisVec(1) // [0, 1, 0] */
export const axisVec = (axis: number): Vec3 => mapVec([0, 1, 2], (k) => (k === axis ? 1 : 0));

/** a + b. @example add([1, 2, 3], [10, 20, 30]) // [11, 22, 33] */
export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];

/** a − b. @example sub([5, 7, 9], [1, 2, 4]) // [4, 5, 5] */
export const sub = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];

/** k·a. @example scale([1, 2, 3], 2) // [2, 4, 6] */
export const scale = (a: Vec3, k: number): Vec3 => [a[0] * k, a[1] * k, a[2] * k];

/** Scalar product. @example dot([1, 2, 3], [4, 5, 6]) // 32 */
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Vector product a × b, right-handed. @example cross([1, 2, 3], [4, 5, 6]) // [-3, 6, -3] */
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** Length of a. @example norm([3, 4, 12]) // 13 */
export const norm = (a: Vec3): number => lengthOf(a[0], a[1], a[2]);

/** Length of (x, y, z). Math.hypot puts its numbers into an array at each call, which a drag would feel. @example lengthOf(3, 4, 12) // 13 */
export const lengthOf = (x: number, y: number, z: number): number => Math.sqrt(x * x + y * y + z * z);

/** Distance between two points. @example distance([1, 1, 1], [4, 5, 13]) // 13 */
export const distance = (a: Vec3, b: Vec3): number => norm(sub(a, b));

/**
 * a over its own length. Throws a LidwrightError when a has no direction (length 0 or not finite).
 * @example unit([0, 3, 4]) // [0, 0.6, 0.8]
 */
export function unit(a: Vec3): Vec3 {
  const length = norm(a);
  if (!(length > 0) || !Number.isFinite(length))
    return fail('a direction of no length', [], 'Give at least one component that is not 0.');
  return scale(a, 1 / length);
}

/** Triple product axis · (r × f): the moment of f at arm r about the unit axis. @example moment([-0.6, 0.8, 0], [-3, 4, 6], [-40, 20, 10]) // -120 @internal for tests */
export const moment = (axis: Vec3, r: Vec3, f: Vec3): number => dot(axis, cross(r, f));

/** The part of a at right angles to the unit direction n. @example perpendicularTo([1, 2, 3], [0, 0, 1]) // [1, 2, 0] */
export const perpendicularTo = (a: Vec3, n: Vec3): Vec3 => sub(a, scale(n, dot(a, n)));

/**
 * Angle between two directions, rad, 0 … π; exact near 0 and π, where acos loses half its digits.
 * Source: W. Kahan, "How futile are mindless assessments of roundoff" (2006), section on angles (from memory).
 * @example angleBetween([1, 0, 0], [0, 2, 0]) // 1.5707963267948966
 */
export function angleBetween(a: Vec3, b: Vec3): Rad {
  const p = unit(a);
  const q = unit(b);
  return rad(2 * atan2(norm(sub(p, q)), norm(add(p, q))));
}

/** Point mirrored in the plane through `origin` with unit normal `n`. @example mirrorPoint([5, 1, 2], [1, 0, 0], [1, 0, 0]) // [-3, 1, 2] */
export const mirrorPoint = (p: Vec3, origin: Vec3, n: Vec3): Vec3 => sub(p, scale(n, 2 * dot(sub(p, origin), n)));

/** Middle of the box round points, along the axes. @example boxMiddle([[0, 0, 0], [2, 1, 0], [1, 4, 0]]) // [1, 2, 0] */
export const boxMiddle = (points: readonly Vec3[]): Vec3 =>
  mapVec([0, 1, 2], (_, k) => {
    const along = points.map((p) => p[k]);
    return (Math.min(...along) + Math.max(...along)) / 2;
  });

/** True when all three components are finite. @example isFiniteVec([1, 2, Infinity]) // false */
export const isFiniteVec = (a: Vec3): boolean =>
  Number.isFinite(a[0]) && Number.isFinite(a[1]) && Number.isFinite(a[2]);

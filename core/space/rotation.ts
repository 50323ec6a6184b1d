import { type Rad, cos, sin } from './angle';
import type { Vec3 } from './vec3';
import { add, cross, dot, scale, sub } from './vec3';

/** A 3 × 3 matrix, row by row. */
export type Mat3 = readonly [Vec3, Vec3, Vec3];

/** M·a. @example applyMat([[0, -1, 0], [1, 0, 0], [0, 0, 1]], [5, 6, 7]) // [-6, 5, 7] */
export const applyMat = (m: Mat3, a: Vec3): Vec3 => [dot(m[0], a), dot(m[1], a), dot(m[2], a)];

/** Transpose. @example transpose([[1, 2, 3], [4, 5, 6], [7, 8, 9]]) // [[1, 4, 7], [2, 5, 8], [3, 6, 9]] */
export const transpose = (m: Mat3): Mat3 => [
  [m[0][0], m[1][0], m[2][0]],
  [m[0][1], m[1][1], m[2][1]],
  [m[0][2], m[1][2], m[2][2]],
];

/** Matrix product A·B. @example mulMat([[0, -1, 0], [1, 0, 0], [0, 0, 1]], [[1, 2, 3], [4, 5, 6], [7, 8, 9]]) // [[-4, -5, -6], [1, 2, 3], [7, 8, 9]] */
export function mulMat(a: Mat3, b: Mat3): Mat3 {
  const t = transpose(b);
  const row = (r: Vec3): Vec3 => [dot(r, t[0]), dot(r, t[1]), dot(r, t[2])];
  return [row(a[0]), row(a[1]), row(a[2])];
}

/**
 * Rotation matrix about a unit axis by angleRad, right-hand rule: R = cos·I + sin·[k]× + (1 − cos)·k kᵀ.
 * Source: Rodrigues' rotation formula.
 * @example rotationMatrix([0, 0, 1], rad(0)) // [[1, 0, 0], [0, 1, 0], [0, 0, 1]]
 */
export function rotationMatrix(axis: Vec3, angleRad: Rad): Mat3 {
  const [x, y, z] = axis;
  const c = cos(angleRad);
  const s = sin(angleRad);
  const t = 1 - c;
  return [
    [c + t * x * x, t * x * y - s * z, t * x * z + s * y],
    [t * x * y + s * z, c + t * y * y, t * y * z - s * x],
    [t * x * z - s * y, t * y * z + s * x, c + t * z * z],
  ];
}

/** A direction turned about a unit axis through the origin. @example rotateVec([0, 0, 5], [0, 0, 1], rad(1)) // [0, 0, 5] */
export function rotateVec(a: Vec3, axis: Vec3, angleRad: Rad): Vec3 {
  const c = cos(angleRad);
  const along = scale(axis, dot(axis, a));
  return add(add(scale(sub(a, along), c), scale(cross(axis, a), sin(angleRad))), along);
}

/** A point turned about the line through `origin` along the unit `axis`; mm in, mm out. @example rotatePoint([1, 0, 5], [1, 0, 0], [0, 0, 1], rad(2)) // [1, 0, 5] */
export const rotatePoint = (p: Vec3, origin: Vec3, axis: Vec3, angleRad: Rad): Vec3 =>
  add(origin, rotateVec(sub(p, origin), axis, angleRad));

/**
 * The rotation that takes base axes to level axes for a base pitched about +Y (positive: nose down) and rolled
 * about its own +X: Ry(pitch)·Rx(roll). Source: ISO 8855 order of rotations, heading left out.
 * @example slopeMatrix(rad(0), rad(0)) // [[1, 0, 0], [0, 1, 0], [0, 0, 1]]
 */
export function slopeMatrix(pitchRad: Rad, rollRad: Rad): Mat3 {
  return mulMat(rotationMatrix([0, 1, 0], pitchRad), rotationMatrix([1, 0, 0], rollRad));
}

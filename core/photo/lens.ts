import { fail } from '../error';
import {
  type Mat3,
  type Vec3,
  add,
  applyMat,
  cos,
  cross,
  dot,
  norm,
  rad,
  rotationMatrix,
  scale,
  sin,
  sub,
  transpose,
  unit,
} from '../space';
import type { Plane2 } from './homography';

/**
 * A pinhole camera with one radial term. Camera axes x right, y down, z forward; pixel (0, 0) is the upper left corner
 * of the upright picture, so the middle of its first pixel is (0.5, 0.5).
 * With (x, y) = camera coordinates over depth and r² = x² + y²: px = principal + f·(1 + k1·r²)·(x, y).
 */
export interface Camera {
  readonly focalPx: number;
  readonly principalPx: Plane2;
  /** Radial term; negative pulls the corners in (barrel). */
  readonly k1: number;
  /** Rows are the camera's axes in the base frame. */
  readonly rotation: Mat3;
  /** Where the camera's eye is, base frame, mm. */
  readonly eyeMm: Vec3;
}

/** A ray in the base frame. */
export interface Ray {
  readonly originMm: Vec3;
  /** Unit vector away from the camera. */
  readonly direction: Vec3;
}

/**
 * Where a point shows in the picture, px. Throws a LidwrightError for a point that is not in front of the camera.
 * Source: pinhole model with one radial term, Brown, "Close-range camera calibration" (1971), from memory.
 */
export function projectPoint(camera: Camera, atMm: Vec3): Plane2 {
  const [x, y, z] = applyMat(camera.rotation, sub(atMm, camera.eyeMm));
  if (!(z > 0)) return fail('this point lies behind the camera', [], 'Choose a point that the photo shows.');
  return lensPx(camera, x / z, y / z);
}

function lensPx(camera: Camera, x: number, y: number): Plane2 {
  const f = camera.focalPx * (1 + camera.k1 * (x * x + y * y));
  return [camera.principalPx[0] + f * x, camera.principalPx[1] + f * y];
}

/**
 * Camera coordinates over depth of a pixel, with the radial term taken out.
 * Throws a LidwrightError for a pixel so far out that the radial term folds the picture over.
 */
export function idealPlace(camera: Pick<Camera, 'focalPx' | 'principalPx' | 'k1'>, px: Plane2): Plane2 {
  const x = (px[0] - camera.principalPx[0]) / camera.focalPx;
  const y = (px[1] - camera.principalPx[1]) / camera.focalPx;
  const out = Math.hypot(x, y);
  if (camera.k1 === 0 || out === 0) return [x, y];
  // r·(1 + k1·r²) = out, by Newton's method from r = out
  let r = out;
  for (let i = 0; i < 50; i++) {
    const slope = 1 + 3 * camera.k1 * r * r;
    if (!(slope > 0.05)) break;
    const step = (r * (1 + camera.k1 * r * r) - out) / slope;
    r -= step;
    if (Math.abs(step) <= 1e-15 * r) break;
  }
  if (!(1 + 3 * camera.k1 * r * r > 0.05) || !(Math.abs(r * (1 + camera.k1 * r * r) - out) < 1e-9 * (1 + out)))
    return fail(
      `pixel ${Math.round(px[0])}, ${Math.round(px[1])} lies further out than this camera’s radial term holds`,
      [],
      'Mark a place nearer to the middle of the photo, or fit the camera without the radial term.',
    );
  return [(x * r) / out, (y * r) / out];
}

/** The ray of sight through a pixel. Throws a LidwrightError where idealPlace does. */
export function rayOf(camera: Camera, px: Plane2): Ray {
  const [x, y] = idealPlace(camera, px);
  return { originMm: camera.eyeMm, direction: unit(applyMat(transpose(camera.rotation), [x, y, 1])) };
}

/**
 * The parameters of a camera as an adjustment sees them: eight numbers
 * [turn about the camera's x, y, z from `rotation` (rad), eye x, y, z (mm), focal length (px), k1].
 */
export const CAMERA_PARAMETERS = 8;

/** Start values of a camera's eight parameters. */
export const cameraParameters = (camera: Camera): number[] => [0, 0, 0, ...camera.eyeMm, camera.focalPx, camera.k1];

/** The camera that eight parameters stand for; turns are taken from `from`. */
export function cameraFrom(from: Camera, p: ArrayLike<number>): Camera {
  return {
    focalPx: p[6]!,
    principalPx: from.principalPx,
    k1: p[7]!,
    rotation: turnedRotation(from.rotation, [p[0]!, p[1]!, p[2]!]),
    eyeMm: [p[3]!, p[4]!, p[5]!],
  };
}

/** R turned about the camera's own axes by the rotation vector w, rad: exp(w)·R. */
export function turnedRotation(rotation: Mat3, w: Vec3): Mat3 {
  const angle = norm(w);
  const t = angle > 0 ? rotationMatrix(scale(w, 1 / angle), rad(angle)) : rotationMatrix([0, 0, 1], rad(0));
  const back = transpose(rotation);
  const row = (r: Vec3): Vec3 => [dot(r, back[0]), dot(r, back[1]), dot(r, back[2])];
  return [row(t[0]), row(t[1]), row(t[2])];
}

/** Depths under this share of the distance are held off, so that a wild step stays finite. */
const LEAST_DEPTH = 1e-3;

/**
 * Where a point shows, for parameters that an adjustment moves, with the slopes if asked: by the eight camera parameters
 * (2 × 8) and by the point (2 × 3), written row by row. A point at or behind the eye is treated as just in front of it,
 * so that a solver sees a huge residual and turns back.
 */
export function projectParameters(
  from: Camera,
  p: ArrayLike<number>,
  at: ArrayLike<number>,
  slopes?: { byCamera: Float64Array; byPoint: Float64Array },
): Plane2 {
  const w: Vec3 = [p[0]!, p[1]!, p[2]!];
  const rotation = turnedRotation(from.rotation, w);
  const arm: Vec3 = [at[0]! - p[3]!, at[1]! - p[4]!, at[2]! - p[5]!];
  const c = applyMat(rotation, arm);
  const z = Math.max(c[2], LEAST_DEPTH * norm(arm), 1e-9);
  const [f, k1] = [p[6]!, p[7]!];
  const x = c[0] / z;
  const y = c[1] / z;
  const r2 = x * x + y * y;
  const k = 1 + k1 * r2;
  const px: Plane2 = [from.principalPx[0] + f * k * x, from.principalPx[1] + f * k * y];
  if (!slopes) return px;
  // by (x, y), then by camera coordinates
  const ux = f * (k + 2 * k1 * x * x);
  const uy = f * 2 * k1 * x * y;
  const vy = f * (k + 2 * k1 * y * y);
  const u: Vec3 = [ux / z, uy / z, -(ux * x + uy * y) / z];
  const v: Vec3 = [uy / z, vy / z, -(uy * x + vy * y) / z];
  [u, v].forEach((g, i) => {
    // d(exp(w)·b)/dw = −[c]×·J_l(w): the turn acts on c from the left
    const turn = leftSlope(cross(c, g), w);
    const byPoint = applyMat(transpose(rotation), g);
    slopes.byCamera.set([...turn, -byPoint[0], -byPoint[1], -byPoint[2]], 8 * i);
    slopes.byCamera[8 * i + 6] = k * (i === 0 ? x : y);
    slopes.byCamera[8 * i + 7] = f * r2 * (i === 0 ? x : y);
    slopes.byPoint.set(byPoint, 3 * i);
  });
  return px;
}

/** J_l(w)ᵀ·a, J_l the left Jacobian of the rotation group. Source: Sola et al., "A micro Lie theory" (2018), eq. 145, from memory. */
export function leftSlope(a: Vec3, w: Vec3): Vec3 {
  const t = norm(w);
  const [first, second] =
    t < 1e-4
      ? [1 / 2 - (t * t) / 24, 1 / 6 - (t * t) / 120]
      : [(1 - cos(rad(t))) / (t * t), (t - sin(rad(t))) / t ** 3];
  const wa = cross(w, a);
  // J_l = I + first·[w]× + second·[w]×²; its transpose has −[w]×
  return add(sub(a, scale(wa, first)), scale(cross(w, wa), second));
}

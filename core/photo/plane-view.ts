import { type Mat3, type Vec3, applyMat, cross, norm, scale, transpose } from '../space';
import { nearestRotation } from './linear';

/** Where a camera stands over a plane: the plane's own axes, third axis right-handed off it. */
export interface PlanePose {
  /** Rows are the camera's axes in plane coordinates. */
  readonly rotation: Mat3;
  /** The eye in plane coordinates, mm; the third is its distance from the plane, with a sign. */
  readonly eyeMm: Vec3;
}

const column = (h: Mat3, j: 0 | 1 | 2): Vec3 => [h[0][j], h[1][j], h[2][j]];

/**
 * Focal length (px) that makes the two axes of the plane square and equal; null where the view is so nearly square on
 * that it says nothing. `h` takes plane mm to px counted from the principal point.
 * Source: Zhang, "A flexible new technique for camera calibration" (2000), section 3.1, with one unknown.
 */
export function focalOfHomography(h: Mat3): number | null {
  const a = column(h, 0);
  const b = column(h, 1);
  // q·(1/f²) = −p for each of the two conditions
  const size = norm(a) * norm(b);
  const q = [(a[0] * b[0] + a[1] * b[1]) / size, (a[0] ** 2 + a[1] ** 2 - b[0] ** 2 - b[1] ** 2) / size];
  const p = [(a[2] * b[2]) / size, (a[2] ** 2 - b[2] ** 2) / size];
  const inverseSquare = -(q[0]! * p[0]! + q[1]! * p[1]!) / (q[0]! ** 2 + q[1]! ** 2);
  if (!(inverseSquare > 0) || !Number.isFinite(inverseSquare)) return null;
  return 1 / Math.sqrt(inverseSquare);
}

/** Where a camera of that focal length stands that sees the plane by h (plane mm → px counted from the principal point). */
export function poseOfHomography(h: Mat3, focalPx: number): PlanePose | null {
  const ray = (v: Vec3): Vec3 => [v[0] / focalPx, v[1] / focalPx, v[2]];
  let [r1, r2, t] = [ray(column(h, 0)), ray(column(h, 1)), ray(column(h, 2))];
  let k = 2 / (norm(r1) + norm(r2));
  if (!Number.isFinite(k)) return null;
  // the plane's origin must lie before the camera
  if (t[2] < 0) k = -k;
  [r1, r2, t] = [scale(r1, k), scale(r2, k), scale(t, k)];
  const r3 = cross(r1, r2);
  const columns: Mat3 = [r1, r2, r3];
  const rotation = nearestRotation(transpose(columns)) as unknown as Mat3;
  return { rotation, eyeMm: scale(applyMat(transpose(rotation), t), -1) };
}

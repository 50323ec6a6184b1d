import { type Mat3, type Vec3, applyMat, cross, dot, norm, scale, sub, transpose, add } from '../space';
import type { Plane2 } from './homography';
import { type Camera, leftSlope, turnedRotation } from './lens';

/**
 * A camera as an adjustment moves it. Turned about its own eye, it would drag all pixels along and the adjustment would
 * creep along a bent valley; so it turns about a pivot among the things it sees, and its parameters are what the photo
 * shows straight: eight numbers [turn about camera x, y, z (rad), pivot's place right and down of the principal point (px),
 * px to one mm at the pivot, 1 over the pivot's depth (1/mm), k1].
 */
export interface AdjustedCamera {
  readonly start: Camera;
  /** A point among those marked, in front of the camera, base frame, mm. */
  readonly pivotMm: Vec3;
  /** true: the focal length stays; px to one mm (the sixth number) then follows from the depth and is to be held. */
  readonly heldFocal: boolean;
}

/** How many numbers a camera has in an adjustment. */
export const ADJUSTED_PARAMETERS = 8;

/** Start values of the eight numbers of AdjustedCamera. */
export function adjustedParameters({ start, pivotMm }: AdjustedCamera): number[] {
  const [x, y, z] = applyMat(start.rotation, sub(pivotMm, start.eyeMm));
  const perMm = start.focalPx / z;
  return [0, 0, 0, perMm * x, perMm * y, perMm, 1 / z, start.k1];
}

/** Typical sizes of the eight numbers, for a solver. */
export const adjustedScale = (c: AdjustedCamera): number[] => {
  const p = adjustedParameters(c);
  return [0.01, 0.01, 0.01, 100, 100, p[5]!, p[6]!, 0.1];
};

/** The camera that the eight numbers stand for. */
export function adjustedCamera(c: AdjustedCamera, p: ArrayLike<number>): Camera {
  const focalPx = c.heldFocal ? c.start.focalPx : p[5]! / p[6]!;
  const perMm = focalPx * p[6]!;
  const rotation = turnedRotation(c.start.rotation, [p[0]!, p[1]!, p[2]!]);
  const pivot: Vec3 = [p[3]! / perMm, p[4]! / perMm, 1 / p[6]!];
  return {
    focalPx,
    principalPx: c.start.principalPx,
    k1: p[7]!,
    rotation,
    eyeMm: sub(c.pivotMm, applyMat(transpose(rotation), pivot)),
  };
}

/** σ of the eye (mm) and the focal length (px) from the covariance of the eight numbers (8 × 8). */
export function adjustedSigma(
  c: AdjustedCamera,
  p: readonly number[],
  covariance: readonly (readonly number[])[],
): { readonly eyeMm: Vec3; readonly focalPx: number } {
  const scales = adjustedScale(c);
  const numbers = (q: readonly number[]): number[] => {
    const camera = adjustedCamera(c, q);
    return [...camera.eyeMm, camera.focalPx];
  };
  const slopes = p.map((_, j) => {
    const h = 1e-5 * scales[j]!;
    const [over, under] = [1, -1].map((s) => numbers(p.map((v, k) => (k === j ? v + s * h : v))));
    return over!.map((v, i) => (v - under![i]!) / (2 * h));
  });
  const sigma = (i: number): number => {
    let sum = 0;
    slopes.forEach((a, j) => slopes.forEach((b, k) => (sum += a[i]! * b[i]! * covariance[j]![k]!)));
    return Math.sqrt(Math.max(0, sum));
  };
  return { eyeMm: [sigma(0), sigma(1), sigma(2)], focalPx: sigma(3) };
}

/** Depths under this share of the pivot's are held off, so that a wild step stays finite. */
const LEAST_DEPTH = 1e-3;

/**
 * Where a point shows, px, with the slopes if asked: by the eight numbers (2 × 8) and by the point (2 × 3), row by row.
 * A point at or behind the eye is treated as just in front of it, so that a solver sees a huge residual and turns back.
 */
export function projectAdjusted(
  c: AdjustedCamera,
  p: ArrayLike<number>,
  at: ArrayLike<number>,
  slopes?: { byCamera: Float64Array; byPoint: Float64Array },
): Plane2 {
  const [right, down, near, k1] = [p[3]!, p[4]!, p[6]!, p[7]!];
  const perMm = c.heldFocal ? c.start.focalPx * near : p[5]!;
  // 1 over the focal length
  const g = near / perMm;
  const w: Vec3 = [p[0]!, p[1]!, p[2]!];
  const rotation: Mat3 = turnedRotation(c.start.rotation, w);
  const arm = applyMat(rotation, [at[0]! - c.pivotMm[0], at[1]! - c.pivotMm[1], at[2]! - c.pivotMm[2]]);
  const depth = Math.max(1 + near * arm[2], LEAST_DEPTH);
  const m = (perMm * arm[0] + right) / depth;
  const n = (perMm * arm[1] + down) / depth;
  const square = m * m + n * n;
  const k = 1 + k1 * g * g * square;
  const px: Plane2 = [c.start.principalPx[0] + k * m, c.start.principalPx[1] + k * n];
  if (!slopes) return px;
  const cross2 = 2 * k1 * g * g;
  // rows: u and v by m and n
  const rows = [
    [k + cross2 * m * m, cross2 * m * n],
    [cross2 * m * n, k + cross2 * n * n],
  ] as const;
  rows.forEach(([byM, byN], i) => {
    const own = i === 0 ? m : n;
    const byG = 2 * k1 * g * square * own;
    const by: Vec3 = [(byM * perMm) / depth, (byN * perMm) / depth, (-near * (byM * m + byN * n)) / depth];
    const turn = leftSlope(cross(arm, by), w);
    const byPerMm = (byM * arm[0] + byN * arm[1]) / depth;
    const byNear = (-arm[2] * (byM * m + byN * n)) / depth;
    slopes.byCamera.set([...turn, byM / depth, byN / depth], 8 * i);
    slopes.byCamera[8 * i + 5] = c.heldFocal ? 0 : byPerMm - (byG * g) / perMm;
    slopes.byCamera[8 * i + 6] = byNear + (c.heldFocal ? byPerMm * c.start.focalPx : byG / perMm);
    slopes.byCamera[8 * i + 7] = g * g * square * own;
    slopes.byPoint.set(applyMat(transpose(rotation), by), 3 * i);
  });
  return px;
}

/** A pivot for a camera: the middle of what it sees, put in front of it, mm. */
export function pivotFor(camera: Camera, seen: readonly Vec3[]): Vec3 {
  const middle = scale(seen.reduce<Vec3>(add, [0, 0, 0]), 1 / seen.length);
  const forward = camera.rotation[2];
  const depth = dot(forward, sub(middle, camera.eyeMm));
  return depth > 0 ? middle : add(camera.eyeMm, scale(forward, norm(sub(middle, camera.eyeMm)) || 1000));
}

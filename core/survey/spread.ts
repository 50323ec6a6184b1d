import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { chiSquareQuantile } from '../solve';
import { type Mat3, type Rad, type Vec3, atan2, rad, toVec3 } from '../space';
import { VIEW_AXES, type ViewName } from './equations';

/** An error ellipse in a view, one standard deviation: semi-axes in mm, and the major one's turn from the view's across axis. */
export interface ErrorEllipse {
  readonly majorMm: number;
  readonly minorMm: number;
  /** −π/2 … π/2, towards the view's up axis. */
  readonly angleRad: Rad;
}

/** Factor from the one-σ ellipse to the one that holds the point with the given chance. @example ellipseFactor(0.95).toFixed(4) // "2.4477" */
export const ellipseFactor = (chance: number): number => Math.sqrt(chiSquareQuantile(1 - chance, 2));

/** Factor from the one-σ ellipsoid to the one that holds the point with the given chance. @example ellipsoidFactor(0.95).toFixed(4) // "2.7955" @internal for tests */
export const ellipsoidFactor = (chance: number): number => Math.sqrt(chiSquareQuantile(1 - chance, 3));

/** The error ellipse that a covariance (mm²) shows in a view. @example ellipseIn([[9, 0, 0], [0, 1, 0], [0, 0, 4]], 'side') // { majorMm: 3, minorMm: 2, angleRad: 0 } */
export function ellipseIn(covariance: Mat3, view: ViewName): ErrorEllipse {
  const [h, v] = VIEW_AXES[view];
  const [a, b, c] = [covariance[h][h], covariance[h][v], covariance[v][v]];
  const middle = (a + c) / 2;
  const half = Math.hypot((a - c) / 2, b);
  return {
    majorMm: Math.sqrt(Math.max(0, middle + half)),
    minorMm: Math.sqrt(Math.max(0, middle - half)),
    angleRad: rad(half > 1e-15 * Math.abs(middle) ? atan2(2 * b, a - c) / 2 : 0),
  };
}

/** Principal directions of a symmetric matrix, largest value first. */
export function principal(m: Mat3): readonly { readonly value: number; readonly direction: Vec3 }[] {
  const e = new EigenvalueDecomposition(new Matrix(m.map((row) => [...row])), { assumeSymmetric: true });
  const v = e.eigenvectorMatrix;
  return e.realEigenvalues
    .map((value, k) => ({ value, direction: [v.get(0, k), v.get(1, k), v.get(2, k)] as Vec3 }))
    .sort((p, q) => q.value - p.value);
}

/** The 3 × 3 part of a full covariance that belongs to the point at place i. */
export function blockOf(full: Float64Array, size: number, i: number, j = i): Mat3 {
  const row = (k: number): Vec3 => toVec3(full.subarray((3 * i + k) * size + 3 * j));
  return [row(0), row(1), row(2)];
}

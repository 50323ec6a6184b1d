import type { Vec3 } from '../space';
import type { Plane2 } from './homography';

/** A known point and where it shows in the photo. */
export interface SpaceMark {
  readonly px: Plane2;
  readonly atMm: Vec3;
}

/** What is known of a camera beforehand. */
export interface ResectOptions {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Known focal length; left out, it is solved. */
  readonly focalPx?: number;
  /** With focalPx: its σ; the focal length is then solved too, drawn towards the known one. Left out, it is held. */
  readonly sigmaFocalPx?: number;
  /** Solve the radial term; otherwise `k1` (0 where not given) is held. */
  readonly solveK1?: boolean;
  readonly k1?: number;
  /** σ of a mark along x and y; 1 where not given. */
  readonly sigmaPx?: number;
}

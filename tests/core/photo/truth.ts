import type { Camera, Plane2 } from '../../../core/photo';
import type { Mat3, Vec3 } from '../../../core/space';
import { fileText } from '../../support/files';

export interface Truth {
  readonly camera: Camera;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly points: readonly { readonly id: string; readonly atMm: Vec3; readonly px: Plane2 }[];
}

/** A rendered photo's known camera and points (tests/fixtures/photos). */
export function truth(name: string): Truth {
  const raw = JSON.parse(fileText(`tests/fixtures/photos/${name}.truth.json`)) as {
    widthPx: number;
    heightPx: number;
    camera: { K: Mat3; R: Mat3; eyeMm: Vec3 };
    points: { id: string; atMm: Vec3; px: Plane2 }[];
  };
  const { K, R, eyeMm } = raw.camera;
  return {
    widthPx: raw.widthPx,
    heightPx: raw.heightPx,
    camera: { focalPx: K[0][0], principalPx: [K[0][2], K[1][2]], k1: 0, rotation: R, eyeMm },
    points: raw.points,
  };
}

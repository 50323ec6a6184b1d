import type { EquationBlock } from '../solve';
import { fail } from '../error';
import { ADJUSTED_PARAMETERS, type AdjustedCamera, projectAdjusted } from './adjusted-camera';
import type { Plane2 } from './homography';

/** Eight columns of an adjustment that belong to one camera. */
export interface CameraColumns {
  readonly camera: AdjustedCamera;
  /** Indices of the eight numbers (see adjustedParameters) among the variables. */
  readonly variables: readonly number[];
}

/**
 * A mark in a photo as two equations for the solver: projected less marked, px. It is tied to the camera's eight numbers and
 * to the point's three coordinates; hold any of them with `fixed` of the problem. Give the numbers the `scale` that
 * adjustedScale says, as the turns start at 0.
 * Throws a LidwrightError when the camera has not eight variables or the point not three.
 */
export function markEquation(args: {
  readonly name: string;
  readonly camera: CameraColumns;
  readonly point: readonly number[];
  readonly px: Plane2;
  /** σ of the mark along x and y, px. */
  readonly sigmaPx: number;
}): EquationBlock {
  const { camera, point, px } = args;
  if (camera.variables.length !== ADJUSTED_PARAMETERS || point.length !== 3)
    return fail(
      `the mark "${args.name}" has ${camera.variables.length} camera and ${point.length} point variables`,
      ['photos'],
      'It needs eight for the camera and three for the point.',
    );
  const byCamera = new Float64Array(2 * ADJUSTED_PARAMETERS);
  const byPoint = new Float64Array(6);
  return {
    name: args.name,
    kind: 'soft',
    variables: [...camera.variables, ...point],
    size: 2,
    sigma: args.sigmaPx,
    residual(v, out) {
      const [x, y] = projectAdjusted(camera.camera, v, v.subarray(ADJUSTED_PARAMETERS));
      out[0] = x - px[0];
      out[1] = y - px[1];
    },
    jacobian(v, rows) {
      projectAdjusted(camera.camera, v, v.subarray(ADJUSTED_PARAMETERS), { byCamera, byPoint });
      for (let i = 0; i < 2; i++) {
        rows.set(byCamera.subarray(8 * i, 8 * i + 8), 11 * i);
        rows.set(byPoint.subarray(3 * i, 3 * i + 3), 11 * i + 8);
      }
    },
  };
}

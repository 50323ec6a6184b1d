import { fail } from '../error';
import { type Mat3, type Vec3, applyMat, cross, dot, norm, scale, sub, transpose, unit } from '../space';
import type { Plane2 } from './homography';
import { CAMERA_PARAMETERS, type Camera, cameraFrom, cameraParameters, projectParameters, projectPoint } from './lens';
import { refine } from './refine';
import { adjustedCamera, adjustedParameters, adjustedScale, pivotFor, projectAdjusted } from './adjusted-camera';
import { startCameras } from './resect-start';
import type { ResectOptions, SpaceMark } from './resect-types';

export type { ResectOptions, SpaceMark } from './resect-types';

/** A camera found from known points. */
export interface Resection {
  readonly camera: Camera;
  /** Projected less marked, px, in the order given. */
  readonly residualsPx: readonly Plane2[];
  /**
   * Covariance of the eight parameters [turn about camera x, y, z (rad), eye x, y, z (mm), focal length (px), k1] for
   * the stated mark σ; rows and columns of what was held are 0.
   */
  readonly covariance: readonly (readonly number[])[];
  readonly sigmaEyeMm: Vec3;
  readonly sigmaFocalPx: number;
  /** Mark σ as the residuals show it, px; null where no mark is spare. Twice the stated one or more: something is off. */
  readonly shownSigmaPx: number | null;
  readonly spare: number;
}

/** A fit that scatters no more than this many stated σ ends the search. */
const GOOD_ENOUGH = 3;

/**
 * The camera that saw six or more known points: a linear start, then Levenberg–Marquardt on the px residuals. The
 * principal point is held at the picture's middle. Points in one plane will do from a slanting view, or when the focal
 * length is known.
 * Throws a LidwrightError for fewer than six points, points in one line, or marks that no camera fits.
 */
export function resectCamera(marks: readonly SpaceMark[], options: ResectOptions): Resection {
  const n = marks.length;
  if (n < 6)
    return fail(
      `${n} known points are marked in this photo: its camera needs six`,
      ['photos'],
      'Mark six points or more whose places are known, spread over the photo and in depth.',
    );
  marks.forEach((m, i) => {
    if (![...m.px, ...m.atMm].every(Number.isFinite))
      fail(`mark ${i + 1} is not a number`, [i], 'Give all its numbers.');
  });
  const sigmaPx = options.sigmaPx ?? 1;
  if (!(sigmaPx > 0) || !(options.widthPx > 0) || !(options.heightPx > 0))
    return fail('a mark’s σ or the picture’s size is not over 0', [], 'Give the σ and the size in pixels.');
  const drawn = options.focalPx !== undefined && options.sigmaFocalPx !== undefined;
  const fixed = [...(options.focalPx !== undefined && !drawn ? [6] : []), ...(options.solveK1 === true ? [] : [7])];
  const spare = 2 * n + (drawn ? 1 : 0) - (CAMERA_PARAMETERS - fixed.length);
  let best: { from: Camera; x: readonly number[]; cofactor: readonly (readonly number[])[]; ss: number } | null = null;
  for (const rough of startCameras(marks, options)) {
    const from = nearer(rough, marks, options, sigmaPx) ?? rough;
    const reach = Math.max(...marks.map((m) => norm(sub(m.atMm, from.eyeMm))));
    const fit = refine(
      cameraParameters(from),
      2 * n + (drawn ? 1 : 0),
      (x, r, jac) => {
        markResiduals(from, marks, sigmaPx, x, r, jac);
        if (!drawn) return;
        r[2 * n] = (x[6]! - options.focalPx!) / options.sigmaFocalPx!;
        if (jac) jac[2 * n] = [0, 0, 0, 0, 0, 0, 1 / options.sigmaFocalPx!, 0];
      },
      { fixed, scale: [0.01, 0.01, 0.01, reach, reach, reach, from.focalPx, 0.1] },
    );
    const found = cameraFrom(from, fit.x);
    if (!(found.focalPx > 0) || marks.some((m) => depthOf(found, m.atMm) <= 0)) continue;
    if (best === null || fit.sumOfSquares < best.ss)
      best = { from, x: fit.x, cofactor: fit.cofactor, ss: fit.sumOfSquares };
    // at the marks' own scatter: another start can't do better
    if (best.ss <= GOOD_ENOUGH ** 2 * Math.max(spare, 1)) break;
  }
  if (best === null || !best.cofactor.flat().every(Number.isFinite))
    return fail(
      'no camera fits these marks',
      ['photos'],
      'Check that each mark names the right point, and add points in front of or behind the others.',
    );
  const camera = cameraFrom(best.from, best.x);
  const sigmaOf = (j: number): number => Math.sqrt(best.cofactor[j]![j]!);
  return {
    camera,
    residualsPx: marks.map(({ px, atMm }): Plane2 => {
      const [u, v] = projectPoint(camera, atMm);
      return [u - px[0], v - px[1]];
    }),
    covariance: best.cofactor,
    sigmaEyeMm: [sigmaOf(3), sigmaOf(4), sigmaOf(5)],
    sigmaFocalPx: sigmaOf(6),
    shownSigmaPx: spare > 0 ? sigmaPx * Math.sqrt(best.ss / spare) : null,
    spare,
  };
}

/**
 * A start brought to the marks with the numbers that an adjustment moves, which converge in a few steps where eye, turn and
 * focal length creep; null where it runs away.
 */
function nearer(from: Camera, marks: readonly SpaceMark[], options: ResectOptions, sigmaPx: number): Camera | null {
  const drawn = options.focalPx !== undefined && options.sigmaFocalPx !== undefined;
  const pivotMm = pivotFor(
    from,
    marks.map((m) => m.atMm),
  );
  const own = { start: from, pivotMm, heldFocal: options.focalPx !== undefined && !drawn };
  const n = 2 * marks.length;
  const slopes = { byCamera: new Float64Array(16), byPoint: new Float64Array(6) };
  const fit = refine(
    adjustedParameters(own),
    n + (drawn ? 1 : 0),
    (x, r, jac) => {
      marks.forEach((mark, i) => {
        const px = projectAdjusted(own, x, mark.atMm, jac ? slopes : undefined);
        for (const c of [0, 1] as const) {
          r[2 * i + c] = (px[c] - mark.px[c]) / sigmaPx;
          if (jac) jac[2 * i + c] = Array.from(slopes.byCamera.subarray(8 * c, 8 * c + 8), (v) => v / sigmaPx);
        }
      });
      if (!drawn) return;
      r[n] = (x[5]! / x[6]! - options.focalPx!) / options.sigmaFocalPx!;
      if (jac) jac[n] = [0, 0, 0, 0, 0, 1 / x[6]!, -x[5]! / x[6]! ** 2, 0].map((v) => v / options.sigmaFocalPx!);
    },
    { fixed: [...(own.heldFocal ? [5] : []), ...(options.solveK1 === true ? [] : [7])], scale: adjustedScale(own) },
  );
  const found = adjustedCamera(own, fit.x);
  const whole = [...found.eyeMm, found.focalPx, found.k1].every(Number.isFinite) && found.focalPx > 0;
  return whole && marks.every((m) => depthOf(found, m.atMm) > 0) ? found : null;
}

/** Depth of a point before the camera, mm. */
export const depthOf = (camera: Camera, atMm: Vec3): number => dot(camera.rotation[2], sub(atMm, camera.eyeMm));

function markResiduals(
  from: Camera,
  marks: readonly SpaceMark[],
  sigmaPx: number,
  x: readonly number[],
  r: number[],
  jac: number[][] | null,
): void {
  const slopes = jac ? { byCamera: new Float64Array(16), byPoint: new Float64Array(6) } : undefined;
  marks.forEach((mark, i) => {
    const px = projectParameters(from, x, mark.atMm, slopes);
    for (let c = 0; c < 2; c++) {
      r[2 * i + c] = (px[c]! - mark.px[c]!) / sigmaPx;
      if (jac && slopes) jac[2 * i + c] = Array.from(slopes.byCamera.subarray(8 * c, 8 * c + 8), (v) => v / sigmaPx);
    }
  });
}

/** The camera that looks from eyeMm at targetMm, upright with respect to `up`, principal point in the picture's middle. @internal for tests */
export function lookingCamera(args: {
  readonly eyeMm: Vec3;
  readonly targetMm: Vec3;
  readonly up: Vec3;
  readonly focalPx: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly k1?: number;
}): Camera {
  const forward = unit(sub(args.targetMm, args.eyeMm));
  const right = unit(cross(forward, args.up));
  const rotation: Mat3 = [right, cross(forward, right), forward];
  return {
    focalPx: args.focalPx,
    principalPx: [args.widthPx / 2, args.heightPx / 2],
    k1: args.k1 ?? 0,
    rotation,
    eyeMm: args.eyeMm,
  };
}

/** −R·C: the shift that goes with a camera's rotation in x = K·(R·X + t), mm. @internal for tests */
export const cameraShift = (camera: Camera): Vec3 => scale(applyMat(camera.rotation, camera.eyeMm), -1);

/** The eye of a camera given as rotation and shift, mm: −Rᵀ·t. @internal for tests */
export const eyeFromShift = (rotation: Mat3, shiftMm: Vec3): Vec3 => scale(applyMat(transpose(rotation), shiftMm), -1);

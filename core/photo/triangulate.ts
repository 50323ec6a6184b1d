import { fail } from '../error';
import {
  type Mat3,
  type Rad,
  type Vec3,
  add,
  angleBetween,
  applyMat,
  dot,
  norm,
  rad,
  scale,
  sub,
  toDeg,
  toRad,
} from '../space';
import type { Plane2 } from './homography';
import { type Camera, cameraParameters, projectParameters, rayOf } from './lens';
import { carried, inverted, product } from './linear';
import { refine } from './refine';

/** One sighting of a point: the camera, its covariance if it is itself uncertain, and the mark. */
export interface Sighting {
  readonly camera: Camera;
  /** Covariance of the camera's eight parameters, as resectCamera gives it; left out, the camera is taken as exact. */
  readonly covariance?: readonly (readonly number[])[];
  readonly px: Plane2;
  /** σ of the mark along x and y, px; 1 where not given. */
  readonly sigmaPx?: number;
}

/** A point found from two or more photos. */
export interface SpacePoint {
  readonly atMm: Vec3;
  /** mm², base frame. */
  readonly covariance: Mat3;
  readonly sigmaMm: Vec3;
  /** Projected less marked, px, one a sighting. */
  readonly residualsPx: readonly Plane2[];
  /** Largest angle between two lines of sight, rad: under some 10° the depth is weak. */
  readonly angleRad: Rad;
  /** Shortest distance by which the lines of sight miss the point, the largest of them, mm. */
  readonly missMm: number;
}

/** Lines of sight closer than this in angle meet nowhere in particular, rad (1°). */
const LEAST_ANGLE = toRad(1);

/**
 * A point from its marks in two or more photos: the place nearest to all lines of sight, then least squares of the px
 * residuals. σ carries both the marks' and the cameras'. Sightings through the same camera are taken as independent: put
 * them into one adjustment with markEquation where that matters.
 * Throws a LidwrightError for one sighting, lines of sight that run almost alike, or a point behind a camera.
 */
export function triangulate(sightings: readonly Sighting[]): SpacePoint {
  if (sightings.length < 2)
    return fail('a point needs its mark in two photos', ['photos'], 'Mark it in a second photo, taken from the side.');
  const rays = sightings.map((s) => rayOf(s.camera, s.px));
  let angleRad = 0;
  rays.forEach((a, i) =>
    rays.slice(i + 1).forEach((b) => (angleRad = Math.max(angleRad, angleBetween(a.direction, b.direction)))),
  );
  if (angleRad > Math.PI / 2) angleRad = Math.PI - angleRad;
  if (!(angleRad > LEAST_ANGLE))
    return fail(
      `the lines of sight differ by ${toDeg(rad(angleRad)).toFixed(1)}° only, so the depth is not fixed`,
      ['photos'],
      'Take the second photo from further aside: 30° to 90° is best.',
    );
  const start = nearestToRays(rays);
  const sigma = sightings.map((s) => s.sigmaPx ?? 1);
  const parameters = sightings.map((s) => cameraParameters(s.camera));
  // the camera's own uncertainty makes the two coordinates of a mark hang together: weight by the root of the inverse
  const weights = sightings.map((s, i) => markWeight(s, parameters[i]!, start, sigma[i]!));
  const fit = refine(
    [...start],
    2 * sightings.length,
    (x, r, jac) =>
      sightings.forEach((s, i) => {
        const slopes = jac ? { byCamera: new Float64Array(16), byPoint: new Float64Array(6) } : undefined;
        const px = projectParameters(s.camera, parameters[i]!, x, slopes);
        const off = [px[0] - s.px[0], px[1] - s.px[1]];
        weights[i]!.forEach((w, c) => {
          r[2 * i + c] = w[0]! * off[0]! + w[1]! * off[1]!;
          if (jac && slopes)
            jac[2 * i + c] = [0, 1, 2].map((k) => w[0]! * slopes.byPoint[k]! + w[1]! * slopes.byPoint[3 + k]!);
        });
      }),
    { scale: start.map(() => norm(sub(start, sightings[0]!.camera.eyeMm))) },
  );
  const atMm: Vec3 = [fit.x[0]!, fit.x[1]!, fit.x[2]!];
  sightings.forEach((s, i) => {
    if (!(dot(s.camera.rotation[2], sub(atMm, s.camera.eyeMm)) > 0))
      fail(`the lines of sight meet behind camera ${i + 1}`, ['photos'], 'Check that both marks show the same thing.');
  });
  const covariance = fit.cofactor as unknown as Mat3;
  return {
    atMm,
    covariance,
    sigmaMm: [Math.sqrt(covariance[0][0]), Math.sqrt(covariance[1][1]), Math.sqrt(covariance[2][2])],
    residualsPx: sightings.map((s, i): Plane2 => {
      const [u, v] = projectParameters(s.camera, parameters[i]!, atMm);
      return [u - s.px[0], v - s.px[1]];
    }),
    angleRad: rad(angleRad),
    missMm: Math.max(
      ...rays.map((r) => {
        const d = sub(atMm, r.originMm);
        return norm(sub(d, scale(r.direction, dot(d, r.direction))));
      }),
    ),
  };
}

/** The point whose summed squared distance to the rays is least. */
function nearestToRays(rays: readonly { readonly originMm: Vec3; readonly direction: Vec3 }[]): Vec3 {
  const m = [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ];
  let right: Vec3 = [0, 0, 0];
  for (const { originMm, direction } of rays)
    for (let i = 0; i < 3; i++) {
      let sum = 0;
      for (let j = 0; j < 3; j++) {
        const p = (i === j ? 1 : 0) - direction[i]! * direction[j]!;
        m[i]![j]! += p;
        sum += p * originMm[j]!;
      }
      right = add(right, [i === 0 ? sum : 0, i === 1 ? sum : 0, i === 2 ? sum : 0]);
    }
  return applyMat(inverted(m) as unknown as Mat3, right);
}

/** W with WᵀW the inverse covariance of a mark: its own and what its camera adds at that point. */
function markWeight(s: Sighting, parameters: readonly number[], at: Vec3, sigmaPx: number): number[][] {
  if (!(sigmaPx > 0)) return fail(`the σ of a mark is ${sigmaPx}`, ['photos'], 'Give a number of pixels over 0.');
  const slopes = { byCamera: new Float64Array(16), byPoint: new Float64Array(6) };
  projectParameters(s.camera, parameters, at, slopes);
  const j = [Array.from(slopes.byCamera.subarray(0, 8)), Array.from(slopes.byCamera.subarray(8, 16))];
  const c = s.covariance
    ? carried(j, s.covariance)
    : [
        [0, 0],
        [0, 0],
      ];
  const a = c[0]![0]! + sigmaPx ** 2;
  const b = (c[0]![1]! + c[1]![0]!) / 2;
  const d = c[1]![1]! + sigmaPx ** 2;
  // Cholesky factor L, then its inverse
  const l11 = Math.sqrt(a);
  const l21 = b / l11;
  const l22 = Math.sqrt(d - l21 * l21);
  return product(
    [
      [1 / l22, 0],
      [0, 1 / l22],
    ],
    [
      [l22 / l11, 0],
      [-l21 / l11, 1],
    ],
  );
}

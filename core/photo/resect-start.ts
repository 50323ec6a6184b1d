import { fail } from '../error';
import { type Mat3, type Vec3, add, applyMat, cross, dot, norm, scale, sub, transpose, unit, toVec3 } from '../space';
import { type Plane2, fitHomography } from './homography';
import type { Camera } from './lens';
import { determinant, leastSquares, nearestRotation, nullVector, singularValues } from './linear';
import { focalOfHomography, poseOfHomography } from './plane-view';
import type { ResectOptions, SpaceMark } from './resect-types';

/** Thinner than this share of their spread, points count as lying in one plane (or line). */
const THIN = 1e-3;
/** Focal lengths to try where nothing better is known, in picture diagonals: from a wide phone lens to a long one. */
const GUESSES = [0.6, 0.85, 1.4, 3, 8];

/** Cameras from which to refine, likeliest first. Throws a LidwrightError for points in one line. */
export function startCameras(marks: readonly SpaceMark[], options: ResectOptions): readonly Camera[] {
  const middle = mean(marks.map((m) => m.atMm));
  const spread = singularValues(marks.map((m) => [...sub(m.atMm, middle)]));
  if (!(spread[1]! > THIN * spread[0]!))
    return fail('the known points lie in one line', ['photos'], 'Mark points off that line too.');
  const flat = !(spread[2]! > THIN * spread[0]!);
  const starts = flat
    ? planeStarts(marks, options, middle)
    : [directLinear(marks, options), ...affineStarts(marks, options, middle)];
  return starts.filter((c) => c !== null);
}

const mean = (points: readonly Vec3[]): Vec3 =>
  scale(
    points.reduce<Vec3>((s, p) => add(s, p), [0, 0, 0]),
    1 / points.length,
  );
const centre = (o: ResectOptions): Plane2 => [o.widthPx / 2, o.heightPx / 2];
const asMat = (m: readonly (readonly number[])[]): Mat3 => m as unknown as Mat3;

/**
 * Direct linear transformation over twelve unknowns, normalised; the camera from its left 3 × 3 part.
 * Source: Hartley & Zisserman, Multiple View Geometry, algorithm 7.1 (from memory).
 */
function directLinear(marks: readonly SpaceMark[], options: ResectOptions): Camera | null {
  const [cx, cy] = centre(options);
  const middle = mean(marks.map((m) => m.atMm));
  const size = marks.reduce((s, m) => s + norm(sub(m.atMm, middle)), 0) / marks.length;
  const half = Math.max(options.widthPx, options.heightPx) / 2;
  const rows = marks.flatMap(({ px, atMm }) => {
    const p = [...scale(sub(atMm, middle), 1 / size), 1];
    const u = (px[0] - cx) / half;
    const v = (px[1] - cy) / half;
    return [
      [...p, 0, 0, 0, 0, ...p.map((c) => -u * c)],
      [0, 0, 0, 0, ...p, ...p.map((c) => -v * c)],
    ];
  });
  const { vector, conditioning } = nullVector(rows);
  if (!(conditioning > 1e-10)) return null;
  const p = [vector.slice(0, 4), vector.slice(4, 8), vector.slice(8, 12)];
  const sign = marks.reduce((s, m) => {
    const q = scale(sub(m.atMm, middle), 1 / size);
    return s + Math.sign(dot(toVec3(p[2]!), q) + p[2]![3]!);
  }, 0);
  const k = (sign < 0 ? -1 : 1) / norm(toVec3(p[2]!));
  const row = (i: number): Vec3 => scale(toVec3(p[i]!), k);
  const [a, b, forward] = [row(0), row(1), row(2)];
  // with the principal point at 0, the first two rows are f·right and f·down: their lengths across `forward` give f
  const across = (v: Vec3): Vec3 => sub(v, scale(forward, dot(v, forward)));
  const focal = (norm(across(a)) + norm(across(b))) / 2;
  if (!(focal > 0)) return null;
  const rotation = asMat(nearestRotation([scale(across(a), 1 / focal), scale(across(b), 1 / focal), forward]));
  const shift: Vec3 = [(p[0]![3]! * k) / focal, (p[1]![3]! * k) / focal, p[2]![3]! * k];
  const eye = add(middle, scale(applyMat(transpose(rotation), shift), -size));
  const f = options.focalPx ?? focal * half;
  return { focalPx: f, principalPx: [cx, cy], k1: options.k1 ?? 0, rotation, eyeMm: eye };
}

/** Starts from a parallel view (good for long lenses, where the linear start is weak), with guessed focal lengths. */
function affineStarts(marks: readonly SpaceMark[], options: ResectOptions, middle: Vec3): (Camera | null)[] {
  const rows = marks.map((m) => [...sub(m.atMm, middle), 1]);
  const [cx, cy] = centre(options);
  const u = leastSquares(
    rows,
    marks.map((m) => m.px[0] - cx),
  );
  const v = leastSquares(
    rows,
    marks.map((m) => m.px[1] - cy),
  );
  const a = toVec3(u);
  const b = toVec3(v);
  const pxPerMm = (norm(a) + norm(b)) / 2;
  if (!(pxPerMm > 0) || !(norm(cross(a, b)) > 1e-3 * norm(a) * norm(b))) return [];
  const rotation = asMat(nearestRotation([unit(a), unit(b), unit(cross(a, b))]));
  return focalGuesses(options).map((f) => {
    const depth = f / pxPerMm;
    const inCamera: Vec3 = [(u[3]! * depth) / f, (v[3]! * depth) / f, depth];
    return {
      focalPx: f,
      principalPx: [cx, cy],
      k1: options.k1 ?? 0,
      rotation,
      eyeMm: sub(middle, applyMat(transpose(rotation), inCamera)),
    };
  });
}

const focalGuesses = (o: ResectOptions): number[] =>
  o.focalPx !== undefined ? [o.focalPx] : GUESSES.map((g) => g * Math.hypot(o.widthPx, o.heightPx));

/** Starts for points in one plane: through the homography of that plane. */
function planeStarts(marks: readonly SpaceMark[], options: ResectOptions, middle: Vec3): (Camera | null)[] {
  const far = marks.reduce((best, m) => (norm(sub(m.atMm, middle)) > norm(best) ? sub(m.atMm, middle) : best), [
    0, 0, 0,
  ] as Vec3);
  const e1 = unit(far);
  const off = marks.reduce(
    (best, m) => {
      const c = cross(e1, sub(m.atMm, middle));
      return norm(c) > norm(best) ? c : best;
    },
    [0, 0, 0] as Vec3,
  );
  const e3 = unit(off);
  const e2 = cross(e3, e1);
  const [cx, cy] = centre(options);
  const h = fitHomography(
    marks.map(({ px, atMm }) => {
      const d = sub(atMm, middle);
      return { from: [dot(d, e1), dot(d, e2)], to: [px[0] - cx, px[1] - cy] };
    }),
  ).matrix;
  const own = options.focalPx ?? focalOfHomography(h);
  const toBase: Mat3 = [e1, e2, e3];
  return (own === null ? focalGuesses(options) : [own]).flatMap((f) => {
    const pose = poseOfHomography(h, f);
    if (pose === null || determinant(pose.rotation) < 0) return [];
    // plane axes → base axes
    const rotation = asMat(pose.rotation.map((row) => applyMat(transpose(toBase), row)));
    return [
      {
        focalPx: f,
        principalPx: [cx, cy] as Plane2,
        k1: options.k1 ?? 0,
        rotation,
        eyeMm: add(middle, applyMat(transpose(toBase), pose.eyeMm)),
      },
    ];
  });
}

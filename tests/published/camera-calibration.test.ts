// The open planar-pattern data of Z. Zhang, "A flexible new technique for camera calibration" (IEEE PAMI 22, 2000), with the
// camera that its author published for them (tests/fixtures/calibration/README.md).
// Homographies and the solver are the product's own; the five views are put together here, because the product has no use
// for a calibration with skew and two radial terms.
import { describe, expect, it } from 'vitest';
import { type Plane2, eyeFromShift, fitHomography, resectCamera } from '../../core/photo';
import { turnedRotation } from '../../core/photo/lens';
import { type EquationBlock, solve } from '../../core/solve';
import { type Mat3, type Vec3, cross, dot, norm, scale } from '../../core/space';
import { nearestRotation, nullVector } from '../../core/photo/linear';
import { expectClose, within } from '../support/close';
import { fileText } from '../support/files';

const published = JSON.parse(fileText('tests/fixtures/calibration/published.json')) as {
  alpha: number;
  gamma: number;
  beta: number;
  u0: number;
  v0: number;
  k1: number;
  k2: number;
  poses: { R: Mat3; t: Vec3 }[];
};
const six = (v: number): number => Number(v.toPrecision(6));
/** Corners of the pattern, inches. */
const model: Plane2[] = Array.from({ length: 64 }, (_, i) => {
  const x = six((8 / 9) * (i % 8));
  const y = -six((8 / 9) * Math.floor(i / 8));
  const [right, low] = [six((8 / 9) * (i % 8) + 0.5), -six((8 / 9) * Math.floor(i / 8) + 0.5)];
  return [
    [x, low],
    [right, low],
    [right, y],
    [x, y],
  ] as Plane2[];
}).flat();
const views: Plane2[][] = [1, 2, 3, 4, 5].map((i) =>
  fileText(`tests/fixtures/calibration/view${i}.txt`)
    .trim()
    .split('\n')
    .map((line) => line.split(' ').map(Number) as unknown as Plane2),
);

/** Closed-form camera from the homographies: Zhang (2000), section 3.1. Returns [alpha, gamma, beta, u0, v0]. */
function closedForm(hs: readonly Mat3[]): [number, number, number, number, number] {
  const v = (h: Mat3, i: number, j: number): number[] => {
    const a = h.map((row) => row[i]!);
    const b = h.map((row) => row[j]!);
    return [
      a[0]! * b[0]!,
      a[0]! * b[1]! + a[1]! * b[0]!,
      a[1]! * b[1]!,
      a[2]! * b[0]! + a[0]! * b[2]!,
      a[2]! * b[1]! + a[1]! * b[2]!,
      a[2]! * b[2]!,
    ];
  };
  const rows = hs.flatMap((h) => [v(h, 0, 1), v(h, 0, 0).map((x, k) => x - v(h, 1, 1)[k]!)]);
  const [b11, b12, b22, b13, b23, b33] = nullVector(rows).vector as [number, number, number, number, number, number];
  const v0 = (b12 * b13 - b11 * b23) / (b11 * b22 - b12 * b12);
  const l = b33 - (b13 * b13 + v0 * (b12 * b13 - b11 * b23)) / b11;
  const alpha = Math.sqrt(l / b11);
  const beta = Math.sqrt((l * b11) / (b11 * b22 - b12 * b12));
  const gamma = (-b12 * alpha * alpha * beta) / l;
  return [alpha, gamma, beta, (gamma * v0) / beta - (b13 * alpha * alpha) / l, v0];
}

function poseFrom(h: Mat3, [alpha, gamma, beta, u0, v0]: readonly number[]): { R: Mat3; t: Vec3 } {
  const ray = (j: number): Vec3 => {
    const y = (h[1][j]! - v0! * h[2][j]!) / beta!;
    return [(h[0][j]! - u0! * h[2][j]! - gamma! * y) / alpha!, y, h[2][j]!];
  };
  const k = 1 / norm(ray(0));
  const [r1, r2, t] = [scale(ray(0), k), scale(ray(1), k), scale(ray(2), k)];
  const r3 = cross(r1, r2);
  const R = nearestRotation([0, 1, 2].map((i) => [r1[i]!, r2[i]!, r3[i]!])) as unknown as Mat3;
  return { R, t };
}

/** One view as equations over [alpha, gamma, beta, u0, v0, k1, k2] and its own turn and shift. */
function viewEquations(view: number, start: Mat3): EquationBlock {
  const own = [0, 1, 2, 3, 4, 5].map((k) => 7 + 6 * view + k);
  return {
    name: `view ${view + 1}`,
    kind: 'soft',
    variables: [0, 1, 2, 3, 4, 5, 6, ...own],
    size: 512,
    residual(v, out) {
      const R = turnedRotation(start, [v[7]!, v[8]!, v[9]!]);
      model.forEach((m, i) => {
        const p: Vec3 = [m[0], m[1], 0];
        const z = dot(R[2], p) + v[12]!;
        const x = (dot(R[0], p) + v[10]!) / z;
        const y = (dot(R[1], p) + v[11]!) / z;
        const r2 = x * x + y * y;
        const k = 1 + v[5]! * r2 + v[6]! * r2 * r2;
        out[2 * i] = v[3]! + k * (v[0]! * x + v[1]! * y) - views[view]![i]![0];
        out[2 * i + 1] = v[4]! + k * v[2]! * y - views[view]![i]![1];
      });
    },
  };
}

const fits = views.map((view) => fitHomography(model.map((from, i) => ({ from, to: view[i]! }))));
const start = closedForm(fits.map((f) => f.matrix));
const poses = fits.map((f) => poseFrom(f.matrix, start));
const solution = solve({
  variables: Float64Array.from([...start, 0, 0, ...poses.flatMap((p) => [0, 0, 0, ...p.t])]),
  equations: poses.map((p, i) => viewEquations(i, p.R)),
});

describe('planar calibration from five views of 256 corners', () => {
  it('starts from the closed form near the published linear solution (871.4, 0.24, 871.1, 300.8, 220.9)', () => {
    // Zhang (2000), table 1, "initial" column for five images (from memory); the data there are the unrounded ones.
    expectClose([start[0], start[2]], [871.445, 871.1251], within(15, 'px'));
    expectClose([start[3], start[4]], [300.7676, 220.8684], within(5, 'px'));
  });

  it('comes to the published camera', () => {
    expect(solution.reason).toBe('converged');
    const [alpha, gamma, beta, u0, v0, k1, k2] = solution.x;
    // the author's σ of alpha is over 1 px; corners rounded to 0.001 px move it by some 0.001
    expectClose([alpha!, beta!], [published.alpha, published.beta], within(0.01, 'px'));
    expectClose([u0!, v0!], [published.u0, published.v0], within(0.005, 'px'));
    expectClose(gamma!, published.gamma, within(0.001, 'px'));
    expectClose(k1!, published.k1, within(1e-4, '1'));
    expectClose(k2!, published.k2, within(5e-4, '1'));
  });

  it('leaves the residuals that SciPy leaves, and the published root mean square of 0.335 px', () => {
    expectClose(solution.figures.sumSquares, 144.88339, within(2e-4, 'px²'));
    // table 1 of the paper: RMS 0.335 over the corners (memory); this is the same figure per corner
    expectClose(Math.sqrt(solution.figures.sumSquares / 1280), 0.335, within(0.002, 'px'));
  });

  it('comes to the published poses', () => {
    published.poses.forEach(({ R, t }, i) => {
      const own = solution.x.subarray(7 + 6 * i, 13 + 6 * i);
      expectClose(turnedRotation(poses[i]!.R, [own[0]!, own[1]!, own[2]!]), R, within(2e-5, '1'));
      expectClose(own.subarray(3), t, within(5e-4, 'in'));
    });
  });
});

describe('the product’s own camera on these views, one at a time', () => {
  // Only one radial term and equal scales along x and y: it can't come to the digit, but must come close.
  it.each([1, 2, 3, 4, 5])('view %i: eye within 1.5 % of its distance, focal length within 1.5 %', (n) => {
    const { R, t } = published.poses[n - 1]!;
    const found = resectCamera(
      model.map((m, i) => ({ atMm: [m[0], m[1], 0], px: views[n - 1]![i]! })),
      // the picture whose middle is the published principal point
      {
        widthPx: 2 * published.u0,
        heightPx: 2 * published.v0,
        solveK1: true,
        focalPx: 840,
        sigmaFocalPx: 20,
        sigmaPx: 0.4,
      },
    );
    const eye = eyeFromShift(R, t);
    const away = norm(t);
    expect(norm([0, 1, 2].map((k) => found.camera.eyeMm[k]! - eye[k]!) as unknown as Vec3) / away).toBeLessThan(0.015);
    expect(Math.abs(found.camera.focalPx / published.alpha - 1)).toBeLessThan(0.015);
    expect(found.camera.k1).toBeLessThan(-0.15);
    expect(found.shownSigmaPx).toBeLessThan(0.5);
  });
});

import { describe, expect, it } from 'vitest';
import {
  type Camera,
  type Plane2,
  cameraParameters,
  idealPlace,
  lookingCamera,
  adjustedCamera,
  adjustedParameters,
  adjustedScale,
  markEquation,
  pivotFor,
  projectAdjusted,
  projectParameters,
  projectPoint,
  rayOf,
  resectCamera,
  triangulate,
} from '../../../core/photo';
import { type EquationBlock, solve } from '../../../core/solve';
import { type Vec3, add, distance, dot, norm, scale, sub } from '../../../core/space';
import { expectClose, within } from '../../support/close';
import { runs } from '../../support/tier';
import { refusal } from '../../support/refusal';
import { CHI95, random, squaredDistance } from './random';
import { truth } from './truth';

const size = { widthPx: 4000, heightPx: 3000 };
const phone = (eyeMm: Vec3, k1 = 0): Camera =>
  lookingCamera({ eyeMm, targetMm: [300, 0, 300], up: [0, 0, 1], focalPx: 3000, k1, ...size });
/** Corners of a bay, 700 × 500 × 600 mm, none of them special. */
const known: Vec3[] = [
  [0, -250, 10],
  [690, -245, 0],
  [705, 240, 15],
  [5, 255, 0],
  [10, -240, 590],
  [700, -250, 605],
  [690, 250, 600],
  [350, 260, 310],
  [120, -200, 300],
];
const noisy = (px: Plane2, n: () => number): Plane2 => [px[0] + n(), px[1] + n()];

describe('a lens', () => {
  it('a ray through a pixel meets what the pixel shows, radial term or not', () => {
    for (const k1 of [0, -0.21, 0.13]) {
      const camera = phone([-700, -1500, 900], k1);
      for (const p of known) {
        const ray = rayOf(camera, projectPoint(camera, p));
        expectClose(norm(ray.direction), 1, within(1e-14, '1'));
        const d = sub(p, ray.originMm);
        expect(norm(sub(d, scale(ray.direction, dot(d, ray.direction))))).toBeLessThan(1e-8);
      }
    }
  });
  it('as an adjustment moves it, shows what the plain camera shows, with slopes that differences confirm', () => {
    for (const heldFocal of [false, true]) {
      const start = phone([-700, -1500, 900], -0.17);
      const own = { start, pivotMm: pivotFor(start, known), heldFocal };
      const at = adjustedParameters(own);
      const p = [410, 60, 330];
      expect(distance([...projectAdjusted(own, at, p), 0], [...projectPoint(start, [410, 60, 330]), 0])).toBeLessThan(
        1e-9,
      );
      expect(distance(adjustedCamera(own, at).eyeMm, start.eyeMm)).toBeLessThan(1e-9);
      [0.31, -0.12, 0.52, 40, -70].forEach((v, j) => (at[j] = at[j]! + v));
      if (!heldFocal) at[5] = at[5]! * 1.1;
      at[6] = at[6]! * 0.9;
      const moved = adjustedCamera(own, at);
      expect(distance([...projectAdjusted(own, at, p), 0], [...projectPoint(moved, [410, 60, 330]), 0])).toBeLessThan(
        1e-9,
      );
      expect(moved.focalPx === start.focalPx).toBe(heldFocal);
      const slopes = { byCamera: new Float64Array(16), byPoint: new Float64Array(6) };
      projectAdjusted(own, at, p, slopes);
      const h = adjustedScale(own).map((v) => 1e-5 * v);
      const all = [...at, ...p];
      for (let j = 0; j < 11; j++) {
        const step = j < 8 ? h[j]! : 1e-3;
        const shown = (s: number): Plane2 => {
          const q = all.map((v, k) => (k === j ? v + s * step : v));
          return projectAdjusted(own, q, q.slice(8));
        };
        const [up, down] = [shown(1), shown(-1)];
        for (let c = 0; c < 2; c++) {
          const slope = (up[c]! - down[c]!) / (2 * step);
          const written = j < 8 ? slopes.byCamera[8 * c + j]! : slopes.byPoint[3 * c + j - 8]!;
          expect(Math.abs(written - slope), `${j} ${c}`).toBeLessThan(1e-5 * (1 + Math.abs(slope)));
        }
      }
    }
  });
  it('has slopes that differences confirm, also away from a turn of 0', () => {
    const camera = phone([-700, -1500, 900], -0.17);
    const at = [...cameraParameters(camera)];
    at[0] = 0.31;
    at[1] = -0.12;
    at[2] = 0.52;
    const p = [410, 60, 330];
    const slopes = { byCamera: new Float64Array(16), byPoint: new Float64Array(6) };
    projectParameters(camera, at, p, slopes);
    const h = [1e-6, 1e-6, 1e-6, 1e-3, 1e-3, 1e-3, 1e-3, 1e-6];
    for (let j = 0; j < 8; j++) {
      const up = projectParameters(
        camera,
        at.map((v, k) => (k === j ? v + h[j]! : v)),
        p,
      );
      const down = projectParameters(
        camera,
        at.map((v, k) => (k === j ? v - h[j]! : v)),
        p,
      );
      for (let c = 0; c < 2; c++) {
        const slope = (up[c]! - down[c]!) / (2 * h[j]!);
        expect(Math.abs(slopes.byCamera[8 * c + j]! - slope)).toBeLessThan(1e-5 * (1 + Math.abs(slope)));
      }
    }
    for (let j = 0; j < 3; j++) {
      const up = projectParameters(
        camera,
        at,
        p.map((v, k) => (k === j ? v + 1e-3 : v)),
      );
      const down = projectParameters(
        camera,
        at,
        p.map((v, k) => (k === j ? v - 1e-3 : v)),
      );
      for (let c = 0; c < 2; c++)
        expect(Math.abs(slopes.byPoint[3 * c + j]! - (up[c]! - down[c]!) / 2e-3)).toBeLessThan(1e-5);
    }
  });
  it('refuses what it can’t show and what its radial term folds over', () => {
    const camera = phone([-700, -1500, 900], -0.3);
    expect(refusal(() => projectPoint(camera, [-1700, -3000, 1500])).what).toMatch(/behind the camera/);
    expect(refusal(() => idealPlace(camera, [9000, 9000])).what).toMatch(/further out/);
  });
});

describe('a camera from known points', () => {
  const camera = phone([-650, -1350, 950], -0.09);
  const marksWith = (n: () => number) => known.map((atMm) => ({ atMm, px: noisy(projectPoint(camera, atMm), n) }));

  it('is found exactly from exact marks, focal length and radial term solved', () => {
    const found = resectCamera(
      marksWith(() => 0),
      { ...size, solveK1: true },
    );
    expect(distance(found.camera.eyeMm, camera.eyeMm)).toBeLessThan(1e-5);
    expectClose(found.camera.focalPx, 3000, within(1e-5, 'px'));
    expectClose(found.camera.k1, -0.09, within(1e-8, '1'));
  });

  it('covers the truth in 92–98 % of the runs: eye, focal length, k1', () => {
    const rng = random(99);
    const times = runs(400, 250);
    let eye = 0;
    let inner = 0;
    let s2 = 0;
    for (let run = 0; run < times; run++) {
      const found = resectCamera(
        marksWith(() => rng.normal(1)),
        { ...size, solveK1: true },
      );
      const error = sub(found.camera.eyeMm, camera.eyeMm);
      const block = (from: number, to: number) => found.covariance.slice(from, to).map((row) => row.slice(from, to));
      if (squaredDistance(error, block(3, 6)) < CHI95[2]) eye++;
      if (squaredDistance([found.camera.focalPx - 3000, found.camera.k1 + 0.09], block(6, 8)) < CHI95[1]) inner++;
      s2 += found.shownSigmaPx! ** 2 / times;
    }
    for (const share of [eye / times, inner / times]) {
      expect(share).toBeGreaterThan(0.92);
      expect(share).toBeLessThan(0.98);
    }
    expectClose(Math.sqrt(s2), 1, within(0.05, 'px'));
  });

  it('a known focal length narrows the eye; a loosely known one lies between', () => {
    const marks = marksWith(() => 0);
    const free = resectCamera(marks, { ...size, k1: -0.09 });
    const drawn = resectCamera(marks, { ...size, k1: -0.09, focalPx: 3000, sigmaFocalPx: 30 });
    const held = resectCamera(marks, { ...size, k1: -0.09, focalPx: 3000 });
    expect(norm(held.sigmaEyeMm)).toBeLessThan(norm(drawn.sigmaEyeMm));
    expect(norm(drawn.sigmaEyeMm)).toBeLessThan(norm(free.sigmaEyeMm));
    expect(held.sigmaFocalPx).toBe(0);
  });

  it('works with all points on one plane, from aside', () => {
    const flat: Vec3[] = [
      [0, -250, 0],
      [690, -245, 0],
      [705, 240, 0],
      [5, 255, 0],
      [350, 20, 0],
      [120, -200, 0],
    ].map(([x, y]) => [x!, y! * 0.8, 100 + y! * 0.6]);
    const side = phone([-650, -1350, 950]);
    const marks = flat.map((atMm) => ({ atMm, px: projectPoint(side, atMm) }));
    expect(distance(resectCamera(marks, size).camera.eyeMm, side.eyeMm)).toBeLessThan(1e-3);
    expect(distance(resectCamera(marks, { ...size, focalPx: 3000 }).camera.eyeMm, side.eyeMm)).toBeLessThan(1e-4);
  });

  it('finds the cameras of the rendered photos, a very long lens too, from marks to 0.001 px', () => {
    for (const name of ['workboat-side', 'workboat-top', 'locker-side']) {
      const { camera: real, points, widthPx, heightPx } = truth(name);
      const marks = points.map(({ atMm, px }) => ({ atMm, px }));
      const found = resectCamera(marks, { widthPx, heightPx });
      const away = norm(sub(real.eyeMm, points[0]!.atMm));
      expect(distance(found.camera.eyeMm, real.eyeMm) / away).toBeLessThan(2e-3);
      expect(found.shownSigmaPx).toBeLessThan(2e-3);
      const held = resectCamera(marks, { widthPx, heightPx, focalPx: real.focalPx });
      expect(distance(held.camera.eyeMm, real.eyeMm) / away).toBeLessThan(2e-5);
    }
  });

  it('refuses too few points, points in line, and marks that no camera fits', () => {
    const marks = marksWith(() => 0);
    expect(refusal(() => resectCamera(marks.slice(0, 5), size)).what).toMatch(/5 known points .* needs six/);
    const line = marks.map((m, i) => ({ ...m, atMm: [10 * i, 20 * i, -3 * i] as Vec3 }));
    expect(refusal(() => resectCamera(line, size)).what).toMatch(/one line/);
    expect(refusal(() => resectCamera([{ px: [1, NaN], atMm: [0, 0, 0] }, ...marks], size)).what).toMatch(/mark 1/);
  });

  it('a swapped pair of marks shows: the residuals are far over the stated σ', () => {
    const marks = marksWith(() => 0);
    const swapped = marks.map((m, i) =>
      i === 0 ? { ...m, px: marks[1]!.px } : i === 1 ? { ...m, px: marks[0]!.px } : m,
    );
    const shown = (() => {
      try {
        return resectCamera(swapped, size).shownSigmaPx!;
      } catch {
        return Infinity;
      }
    })();
    expect(shown).toBeGreaterThan(20);
  });
});

describe('points from two photos', () => {
  const left = phone([-600, -1150, 750]);
  const right = phone([1100, -1250, 800]);

  it('within 3 mm at 1.5 m with marks to 1 px: the cameras themselves found from the same marks', () => {
    const rng = random(5);
    const wanted: Vec3 = [300, 20, 280];
    expect(distance(wanted, left.eyeMm)).toBeGreaterThan(1400);
    let worst = 0;
    for (let run = 0; run < 60; run++) {
      const n = (): number => rng.uniform() * 2 - 1;
      const cameras = [left, right].map((camera) => {
        const found = resectCamera(
          known.map((atMm) => ({ atMm, px: noisy(projectPoint(camera, atMm), n) })),
          size,
        );
        return { camera: found.camera, covariance: found.covariance, px: noisy(projectPoint(camera, wanted), n) };
      });
      worst = Math.max(worst, distance(triangulate(cameras).atMm, wanted));
    }
    expect(worst).toBeLessThan(3);
  });

  it('on the rendered side and top photos, cameras known, marks at whole pixels: within 3 mm', () => {
    const side = truth('workboat-side');
    const top = truth('workboat-top');
    for (const p of side.points) {
      const q = top.points.find((other) => other.id === p.id)!;
      const point = triangulate([
        { camera: side.camera, px: [Math.round(p.px[0]), Math.round(p.px[1])] },
        { camera: top.camera, px: [Math.round(q.px[0]), Math.round(q.px[1])] },
      ]);
      expect(distance(point.atMm, p.atMm)).toBeLessThan(3);
      expect(point.angleRad).toBeGreaterThan(1.3);
    }
  });

  it('covers the truth in 92–98 % of the runs, cameras exact and cameras found', () => {
    const rng = random(17);
    const times = runs(400, 150);
    let exact = 0;
    let found = 0;
    const wanted: Vec3 = [420, -60, 180];
    for (let run = 0; run < times; run++) {
      const n = (): number => rng.normal(1);
      const px = [left, right].map((c) => noisy(projectPoint(c, wanted), n));
      const a = triangulate([left, right].map((camera, i) => ({ camera, px: px[i]! })));
      if (squaredDistance(sub(a.atMm, wanted), a.covariance) < CHI95[2]) exact++;
      const b = triangulate(
        [left, right].map((camera, i) => {
          const r = resectCamera(
            known.map((atMm) => ({ atMm, px: noisy(projectPoint(camera, atMm), n) })),
            size,
          );
          return { camera: r.camera, covariance: r.covariance, px: px[i]! };
        }),
      );
      if (squaredDistance(sub(b.atMm, wanted), b.covariance) < CHI95[2]) found++;
    }
    for (const share of [exact / times, found / times]) {
      expect(share).toBeGreaterThan(0.92);
      expect(share).toBeLessThan(0.98);
    }
  });

  it('refuses one photo, and two from nearly the same place', () => {
    const p: Vec3 = [300, 0, 300];
    const one = { camera: left, px: projectPoint(left, p) };
    expect(refusal(() => triangulate([one])).what).toMatch(/two photos/);
    const near = phone([-590, -1150, 750]);
    const error = refusal(() => triangulate([one, { camera: near, px: projectPoint(near, p) }]));
    expect(error.what).toMatch(/differ by 0\.\d° only/);
    expect(error.advice).toMatch(/further aside/);
  });
});

describe('marks in an adjustment with tape readings', () => {
  it('two cameras of unknown place, six known points, two unknown points and a tape between them, all at once', () => {
    const cameras = [phone([-600, -1150, 750]), phone([1100, -1250, 800])];
    const unknown: Vec3[] = [
      [300, 20, 280],
      [520, -80, 410],
    ];
    const rng = random(3);
    const off = (): number => rng.normal(1);
    const points = [...known, ...unknown];
    const start: number[] = [];
    const scales: number[] = [];
    const columns = cameras.map((camera) => {
      const from = resectCamera(
        known.map((atMm) => ({ atMm, px: noisy(projectPoint(camera, atMm), off) })),
        size,
      ).camera;
      const own = { start: from, pivotMm: pivotFor(from, known), heldFocal: false };
      const variables = adjustedParameters(own).map((v) => start.push(v) - 1);
      scales.push(...adjustedScale(own));
      return { camera: own, variables };
    });
    const at = points.map((p, i) => {
      const guess = i < known.length ? p : add(p, [35, -40, 28]);
      scales.push(100, 100, 100);
      return guess.map((v) => start.push(v) - 1);
    });
    const tape: EquationBlock = {
      name: 'tape between the two',
      kind: 'soft',
      variables: [...at.at(-2)!, ...at.at(-1)!],
      size: 1,
      sigma: 0.5,
      residual(v, out) {
        out[0] = Math.hypot(v[3]! - v[0]!, v[4]! - v[1]!, v[5]! - v[2]!) - distance(unknown[0]!, unknown[1]!);
      },
    };
    const marks = cameras.flatMap((camera, c) =>
      points.map((p, i) =>
        markEquation({
          name: `mark ${i} in photo ${c}`,
          camera: columns[c]!,
          point: at[i]!,
          px: noisy(projectPoint(camera, p), off),
          sigmaPx: 1,
        }),
      ),
    );
    const fixed = [...at.slice(0, known.length).flat(), ...columns.map((c) => c.variables[7]!)];
    const done = solve({ variables: Float64Array.from(start), equations: [...marks, tape], fixed, scale: scales });
    expect(done.reason).toBe('converged');
    const dof = 2 * marks.length + 1 - (start.length - fixed.length);
    expect(done.figures.sumSquares / dof).toBeLessThan(2);
    unknown.forEach((p, i) => {
      const found = at[known.length + i]!.map((j) => done.x[j]!) as unknown as Vec3;
      expect(distance(found, p)).toBeLessThan(3);
    });
    const eye = adjustedCamera(
      columns[0]!.camera,
      columns[0]!.variables.map((j) => done.x[j]!),
    ).eyeMm;
    expect(distance(eye, cameras[0]!.eyeMm)).toBeLessThan(30);
    expect(
      Math.abs(
        Math.hypot(...at.at(-1)!.map((j, k) => done.x[j]! - done.x[at.at(-2)![k]!]!)) -
          distance(unknown[0]!, unknown[1]!),
      ),
    ).toBeLessThan(1);
  });
  it('refuses a camera without its eight variables', () => {
    const error = refusal(() =>
      markEquation({
        name: 'm',
        camera: { camera: { start: phone([0, -1000, 0]), pivotMm: [0, 0, 0], heldFocal: false }, variables: [0, 1] },
        point: [2, 3, 4],
        px: [1, 1],
        sigmaPx: 1,
      }),
    );
    expect(error.what).toMatch(/2 camera and 3 point variables/);
  });
});

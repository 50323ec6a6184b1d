// Rotations, angles and turned points: printed cases, and two general-purpose libraries on random axes.
import fc from 'fast-check';
import { rotationMatrix as mathjsRotation, matrix, multiply } from 'mathjs';
import { Euler, Matrix4, Quaternion, Vector3 } from 'three';
import { describe, expect, it } from 'vitest';
import {
  type Mat3,
  type Vec3,
  angleBetween,
  applyMat,
  cross,
  dot,
  mulMat,
  rotatePoint,
  rotateVec,
  rotationMatrix,
  scale,
  slopeMatrix,
  toDeg,
  toRad,
  transpose,
  unit,
} from '../../core/space';
import { poseAt, turned, turning } from '../../core/travel';
import { direction, point } from '../support/arbitrary';
import { expectClose, within } from '../support/close';

const one = within(1e-15, '1');
const rows = (m: Mat3): number[][] => m.map((r) => [...r]);
const angle = fc.double({ min: -400, max: 400, noNaN: true }).map((d) => toRad(d));

describe('printed rotations', () => {
  // ceres-solver, internal/ceres/rotation_test.cc (read; stored column-major there).
  it('rotation vector (π/2, 0, 0)', () =>
    expectClose(
      rows(rotationMatrix([1, 0, 0], Math.PI / 2)),
      [
        [1, 0, 0],
        [0, 0, -1],
        [0, 1, 0],
      ],
      one,
    ));
  it('rotation vector (0, π, 0)', () =>
    expectClose(
      rows(rotationMatrix([0, 1, 0], Math.PI)),
      [
        [-1, 0, 0],
        [0, 1, 0],
        [0, 0, -1],
      ],
      one,
    ));
  // docs.scipy.org, example of Rotation.as_rotvec (read): intrinsic Y −90°, then X −90° is (−69.2820323 three times)°.
  it('Y −90° then X −90° is 120° about (−1, −1, −1)', () => {
    const r = mulMat(rotationMatrix([0, 1, 0], toRad(-90)), rotationMatrix([1, 0, 0], toRad(-90)));
    expectClose(
      rows(r),
      [
        [0, 1, 0],
        [0, 0, 1],
        [1, 0, 0],
      ],
      within(1e-15, '1'),
    );
    const vector: Vec3 = [-69.2820323, -69.2820323, -69.2820323];
    expectClose(Math.hypot(...vector), 120, within(1e-6, '°'));
    expectClose(rows(rotationMatrix(unit(vector), toRad(Math.hypot(...vector)))), rows(r), within(1e-8, '1'));
  });
  // Rodrigues' formula (computed).
  it('120° about (1, 1, 1) exchanges the axes', () => {
    const t = rotationMatrix(unit([1, 1, 1]), (2 * Math.PI) / 3);
    expectClose(
      rows(t),
      [
        [0, 0, 1],
        [1, 0, 0],
        [0, 1, 0],
      ],
      within(5e-16, '1'),
    );
  });
  it('40° about (1, 2, 3)', () => {
    const wanted = [
      [0.782756, -0.481954, 0.393718],
      [0.548799, 0.832889, -0.071526],
      [-0.293451, 0.272059, 0.916444],
    ];
    expectClose(rows(rotationMatrix(unit([1, 2, 3]), toRad(40))), wanted, within(1e-6, '1'));
  });
  // rosettacode.org, "Rodrigues' rotation formula": inputs read, result computed.
  it('(5, −6, 4) turned onto (8, 5, −30): 113.491368°, (2.232221, 1.395138, −8.370829)', () => {
    const [a, b]: Vec3[] = [
      [5, -6, 4],
      [8, 5, -30],
    ];
    const between = angleBetween(a!, b!);
    expectClose(toDeg(between), 113.491368, within(1e-6, '°'));
    expectClose(rotateVec(a!, unit(cross(a!, b!)), between), [2.232221, 1.395138, -8.370829], within(1e-6, '1'));
  });
  // A + R·(P − A), two codes agree (computed).
  it('P(850, 400, 60) about the line A(100, 200, −50) → B(130, 900, −20), 30° and 75°', () => {
    const [p, a, axis]: Vec3[] = [[850, 400, 60], [100, 200, -50], unit([30, 700, 30])];
    const wanted: [number, Vec3][] = [
      [30, [801.495447, 418.510943, -323.417456]],
      [75, [399.403511, 453.120717, -728.886913]],
    ];
    for (const [deg, at] of wanted) {
      expectClose(rotatePoint(p!, a!, axis!, toRad(deg)), at, within(1e-6, 'mm'));
      const hinge = { origin: a!, along: axis!, opening: axis!, sign: 1 as const, spanMm: 701.28 };
      expectClose(poseAt(hinge, p!, toRad(deg)), at, within(1e-6, 'mm'));
    }
  });
});

describe('angles between directions', () => {
  // OpenStax University Physics vol. 1, "Angle between Two Forces", m58280 (read).
  it('(10, −20.4, 2) and (−15, 0, −6.2): 116.0°', () => {
    const deg = toDeg(angleBetween([10, -20.4, 2], [-15, 0, -6.2]));
    expectClose(deg, 116.0, within(0.05, '°'));
    expectClose(deg, 116.021549, within(1e-6, '°'));
  });
  // OpenStax University Physics vol. 1, "The Scalar Product" (read).
  it('lengths 10 and 20 at 75° have the scalar product 51.76', () => {
    const a: Vec3 = scale(unit([1, 2, -2]), 10);
    const b = scale(rotateVec(a, unit(cross(a, [3, 1, 1])), toRad(75)), 2);
    expectClose(dot(a, b), 51.76, within(5e-3, '1'));
    expectClose(toDeg(angleBetween(a, b)), 75, within(1e-9, '°'));
  });
});

describe('three and mathjs on random axes', () => {
  it('rotationMatrix is three’s Matrix4.makeRotationAxis and mathjs’s rotationMatrix', () => {
    fc.assert(
      fc.property(direction, angle, (v, rad) => {
        const axis = unit(v);
        const ours = rows(rotationMatrix(axis, rad));
        const e = new Matrix4().makeRotationAxis(new Vector3(...axis), rad).elements;
        expectClose(
          ours,
          [0, 1, 2].map((r) => [e[r]!, e[r + 4]!, e[r + 8]!]),
          within(1e-14, '1'),
        );
        expectClose(ours, mathjsRotation(rad, matrix([...v])).toArray() as number[][], within(1e-14, '1'));
      }),
    );
  });
  it('rotateVec, rotatePoint and turning are three’s Quaternion', () => {
    fc.assert(
      fc.property(direction, angle, point(900), point(900), (v, rad, p, origin) => {
        const axis = unit(v);
        const q = new Quaternion().setFromAxisAngle(new Vector3(...axis), rad);
        const wanted = new Vector3(...p).applyQuaternion(q).toArray();
        expectClose(rotateVec(p, axis, rad), wanted, within(1e-9, 'mm'));
        expectClose(turned(turning(p, axis), rad), wanted, within(1e-9, 'mm'));
        const about = new Vector3(...p)
          .sub(new Vector3(...origin))
          .applyQuaternion(q)
          .add(new Vector3(...origin));
        expectClose(rotatePoint(p, origin, axis, rad), about.toArray(), within(1e-9, 'mm'));
      }),
    );
  });
  it('products, transposes and application are three’s and mathjs’s', () => {
    fc.assert(
      fc.property(direction, angle, direction, angle, point(50), (v, a, w, b, p) => {
        const [m, n] = [rotationMatrix(unit(v), a), rotationMatrix(unit(w), b)];
        expectClose(rows(mulMat(m, n)), multiply(rows(m), rows(n)) as number[][], within(1e-14, '1'));
        expectClose(applyMat(m, p), multiply(rows(m), [...p]) as number[], within(1e-12, '1'));
        expectClose(
          rows(mulMat(m, transpose(m))),
          [
            [1, 0, 0],
            [0, 1, 0],
            [0, 0, 1],
          ],
          within(1e-14, '1'),
        );
      }),
    );
  });
  it('angleBetween is three’s Vector3.angleTo', () => {
    fc.assert(
      fc.property(direction, direction, (a, b) =>
        // acos, which angleTo uses, is good to about 1e-8 near 0 and π
        expectClose(angleBetween(a, b), new Vector3(...a).angleTo(new Vector3(...b)), within(3e-8, 'rad')),
      ),
    );
  });
  // ISO 8855: x forward, y left, z up; heading, then pitch about y, then roll about the body's own x (order read in a
  // manual that reproduces the standard). three's intrinsic order "YXZ" with no heading left is the same.
  it('slopeMatrix is pitch about y, then roll about the body’s x; nose down is positive', () => {
    fc.assert(
      fc.property(angle, angle, (pitch, roll) => {
        const e = new Matrix4().makeRotationFromEuler(new Euler(roll, pitch, 0, 'YXZ')).elements;
        expectClose(
          rows(slopeMatrix(pitch, roll)),
          [0, 1, 2].map((r) => [e[r]!, e[r + 4]!, e[r + 8]!]),
          within(1e-14, '1'),
        );
      }),
    );
    expect(applyMat(slopeMatrix(toRad(10), 0), [1, 0, 0])[2]).toBeLessThan(0);
    expect(applyMat(slopeMatrix(0, toRad(10)), [0, 1, 0])[2]).toBeGreaterThan(0);
  });
});

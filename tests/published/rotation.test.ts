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
  rad,
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
import { turned, turning } from '../../core/travel';
import { anglesOver, stemFromMount } from '../../core/joint';
import { direction, point } from '../support/arbitrary';
import { expectClose, within } from '../support/close';

const rows = (m: Mat3): number[][] => m.map((r) => [...r]);
const angle = fc.double({ min: -400, max: 400, noNaN: true }).map((d) => toRad(d));

describe('printed rotations', () => {
  // SciPy's reference, example of Rotation.as_rotvec: intrinsic Y −90°, then X −90° is (−69.2820323 three times)°.
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
});

describe('angles between directions', () => {
  // OpenStax University Physics vol. 1, "Angle between Two Forces", m58280.
  it('(10, −20.4, 2) and (−15, 0, −6.2): 116.0°', () => {
    const deg = toDeg(angleBetween([10, -20.4, 2], [-15, 0, -6.2]));
    expectClose(deg, 116.0, within(0.05, '°'));
    expectClose(deg, 116.021549, within(1e-6, '°'));
  });
  // OpenStax University Physics vol. 1, "The Scalar Product".
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
  // ISO 8855: x forward, y left, z up; heading, then pitch about y, then roll about the body's own x. three's intrinsic order "YXZ" with no heading left is the same.
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
    expect(applyMat(slopeMatrix(toRad(10), rad(0)), [1, 0, 0])[2]).toBeLessThan(0);
    expect(applyMat(slopeMatrix(rad(0), toRad(10)), [0, 1, 0])[2]).toBeGreaterThan(0);
  });
  it('joint angles of stems on mounts are three’s angle between vectors', () => {
    fc.assert(
      fc.property(
        direction,
        direction,
        angle,
        fc.double({ min: -1.5, max: 1.5, noNaN: true }),
        direction,
        (normal, reference, azimuth, tilt, u) => {
          fc.pre(Math.abs(dot(unit(normal), unit(reference))) < 0.97);
          // the stem: e turned about the normal by the azimuth, then leaned toward the normal by the tilt
          const m = new Vector3(...normal).normalize();
          const e = new Vector3(...reference).projectOnPlane(m).normalize();
          e.applyAxisAngle(m, azimuth);
          const stem = e.clone().applyAxisAngle(e.clone().cross(m).normalize(), tilt);
          expectClose(stemFromMount({ normal, reference }, azimuth, rad(tilt)), stem.toArray(), within(1e-9, '1'));
          const way = unit(u);
          const [deg] = anglesOver(
            { angleDeg: Float64Array.of(0), directions: Float64Array.from(way), at: () => way },
            stem.toArray(),
          );
          expectClose(deg, toDeg(rad(stem.angleTo(new Vector3(...u)))), within(1e-5, '°'));
        },
      ),
    );
  });
});

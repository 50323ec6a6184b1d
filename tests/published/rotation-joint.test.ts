import * as math from 'mathjs';
import { Matrix3, Matrix4, Quaternion, Vector3 } from 'three';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anglesOver, stemFromMount } from '../../core/joint';
import {
  type Vec3,
  angleBetween,
  applyMat,
  cross,
  dot,
  mulMat,
  rotatePoint,
  rotateVec,
  rotationMatrix,
  slopeMatrix,
  toDeg,
  toRad,
  unit,
} from '../../core/space';
import { turned, turning } from '../../core/travel';
import { expectClose, within } from '../support/close';

const EXACT = within(1e-12, '1');
const component = fc.double({ min: -900, max: 900, noNaN: true });
const vec = fc.tuple(component, component, component);
const axis = vec.filter((v) => Math.hypot(...v) > 1);
const angle = fc.double({ min: -2 * Math.PI, max: 2 * Math.PI, noNaN: true });

describe('rotation matrices and angles in print', () => {
  it('rotation vectors to matrices', () => {
    // ceres-solver, internal/ceres/rotation_test.cc (stored copy; column-major there)
    expectClose(
      rotationMatrix([1, 0, 0], Math.PI / 2),
      [
        [1, 0, 0],
        [0, 0, -1],
        [0, 1, 0],
      ],
      within(1e-15, '1'),
    );
    expectClose(
      rotationMatrix([0, 1, 0], Math.PI),
      [
        [-1, 0, 0],
        [0, 1, 0],
        [0, 0, -1],
      ],
      within(1e-15, '1'),
    );
  });
  it('turned about Y by −90°, then about its own X by −90°: one turn of 120°', () => {
    // docs.scipy.org, example of Rotation.as_rotvec: −69.2820323° each (stored copy)
    const both = mulMat(rotationMatrix([0, 1, 0], -Math.PI / 2), rotationMatrix([1, 0, 0], -Math.PI / 2));
    const k = -69.2820323;
    expectClose(both, rotationMatrix(unit([k, k, k]), toRad(Math.hypot(k, k, k))), within(1e-9, '1'));
    expectClose(
      both,
      [
        [0, 1, 0],
        [0, 0, 1],
        [1, 0, 0],
      ],
      within(1e-15, '1'),
    );
  });
  it('Rodrigues’ formula: axes in no coordinate plane', () => {
    // computed from R = I + sin θ·K + (1 − cos θ)·K²
    expectClose(
      rotationMatrix(unit([1, 1, 1]), toRad(120)),
      [
        [0, 0, 1],
        [1, 0, 0],
        [0, 1, 0],
      ],
      within(1e-15, '1'),
    );
    expectClose(
      rotationMatrix(unit([1, 2, 3]), toRad(40)),
      [
        [0.782756, -0.481954, 0.393718],
        [0.548799, 0.832889, -0.071526],
        [-0.293451, 0.272059, 0.916444],
      ],
      within(1e-6, '1'),
    );
  });
  it('one direction turned onto another', () => {
    // inputs: rosettacode.org, "Rodrigues' rotation formula" (stored copy); result computed
    const [a, b]: [Vec3, Vec3] = [
      [5, -6, 4],
      [8, 5, -30],
    ];
    const rad = angleBetween(a, b);
    expectClose(toDeg(rad), 113.491368, within(1e-6, '°'));
    expectClose(rotateVec(a, unit(cross(a, b)), rad), [2.232221, 1.395138, -8.370829], within(1e-6, 'mm'));
  });
  it('a point turned about a line', () => {
    // computed; two independent codes agree
    const [p, a, b]: Vec3[] = [
      [850, 400, 60],
      [100, 200, -50],
      [130, 900, -20],
    ];
    const along = unit([b![0] - a![0], b![1] - a![1], b![2] - a![2]]);
    expectClose(rotatePoint(p!, a!, along, toRad(30)), [801.495447, 418.510943, -323.417456], within(1e-6, 'mm'));
    expectClose(rotatePoint(p!, a!, along, toRad(75)), [399.403511, 453.120717, -728.886913], within(1e-6, 'mm'));
  });
  it('angles between directions', () => {
    // OpenStax, University Physics vol. 1, "Angle between Two Forces" (m58280): 116.0°
    expectClose(toDeg(angleBetween([10, -20.4, 2], [-15, 0, -6.2])), 116, within(0.05, '°'));
    expectClose(toDeg(angleBetween([10, -20.4, 2], [-15, 0, -6.2])), 116.021549, within(1e-6, '°'));
    // the same book, "The Scalar Product": lengths 10.0 and 20.0 at 75°: 51.76
    expectClose(10 * 20 * dot([1, 0, 0], rotateVec([1, 0, 0], [0, 0, 1], toRad(75))), 51.76, within(5e-3, '1'));
    // directions of the skew lines of an NCERT class XII exercise (inputs read at vidyadip.com 3022752): 30.577030° (computed)
    expectClose(toDeg(angleBetween([2, -1, 1], [3, -5, 2])), 30.57703, within(1e-6, '°'));
  });
});

describe('the same, by general-purpose libraries', () => {
  it('matrices and turned vectors agree with three', () => {
    fc.assert(
      fc.property(axis, angle, vec, (k, rad, v) => {
        const n = unit(k);
        const theirs = new Matrix3().setFromMatrix4(new Matrix4().makeRotationAxis(new Vector3(...n), rad)).toArray();
        const ours = rotationMatrix(n, rad);
        for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) expectClose(ours[r]![c], theirs[3 * c + r]!, EXACT);
        const turnedTheirs = new Vector3(...v).applyQuaternion(
          new Quaternion().setFromAxisAngle(new Vector3(...n), rad),
        );
        expectClose(rotateVec(v, n, rad), turnedTheirs.toArray(), within(1e-9, 'mm'));
        expectClose(turned(turning(v, n), rad), turnedTheirs.toArray(), within(1e-9, 'mm'));
      }),
    );
  });
  it('vectors turned about an axis agree with mathjs, products too', () => {
    fc.assert(
      fc.property(axis, angle, vec, (k, rad, v) => {
        expectClose(rotateVec(v, unit(k), rad), math.rotate([...v], rad, [...k]) as number[], within(1e-9, 'mm'));
        const m = rotationMatrix(unit(k), rad);
        expectClose(
          applyMat(m, v),
          math.multiply(
            m.map((row) => [...row]),
            [...v],
          ) as number[],
          within(1e-9, 'mm'),
        );
        expectClose(math.det(m.map((row) => [...row])), 1, within(1e-12, '1'));
      }),
    );
  });
  it('slopes: pitch then roll, as three multiplies them', () => {
    fc.assert(
      fc.property(angle, angle, (pitch, roll) => {
        const theirs = new Matrix4().makeRotationY(pitch).multiply(new Matrix4().makeRotationX(roll));
        const e = new Matrix3().setFromMatrix4(theirs).toArray();
        slopeMatrix(pitch, roll).forEach((row, r) => row.forEach((x, c) => expectClose(x, e[3 * c + r]!, EXACT)));
      }),
    );
  });
  it('joint angles of stems on mounts agree with three’s angle between vectors', () => {
    fc.assert(
      fc.property(
        axis,
        axis,
        angle,
        fc.double({ min: -1.5, max: 1.5, noNaN: true }),
        axis,
        (normal, reference, azimuth, tilt, u) => {
          fc.pre(Math.abs(dot(unit(normal), unit(reference))) < 0.97);
          // the stem: e turned about the normal by the azimuth, then leaned toward the normal by the tilt
          const m = new Vector3(...normal).normalize();
          const e = new Vector3(...reference).projectOnPlane(m).normalize();
          e.applyAxisAngle(m, azimuth);
          const stem = e.clone().applyAxisAngle(e.clone().cross(m).normalize(), tilt);
          expectClose(stemFromMount({ normal, reference }, azimuth, tilt), stem.toArray(), within(1e-9, '1'));
          const way = unit(u);
          const [deg] = anglesOver(
            { angleDeg: Float64Array.of(0), directions: Float64Array.from(way), at: () => way },
            stem.toArray(),
          );
          expectClose(deg, toDeg(stem.angleTo(new Vector3(...u))), within(1e-5, '°'));
        },
      ),
    );
  });
});

describe('a wedge’s angles in print', () => {
  it('a slope of 1 in 10 is 5.71°, of 1 in 5 is 11.31°: tables of tapers and tangents', () => {
    // arctangents, as any table of natural tangents has them
    expect(toDeg(Math.atan(0.1))).toBeCloseTo(5.7106, 4);
    expectClose(toDeg(angleBetween([1, 0, 0], [5, 0, 1])), 11.3099, within(1e-4, '°'));
  });
});

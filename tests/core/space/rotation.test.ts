// Rotations by numbers worked out apart from this code (Rodrigues' formula).
import { describe, it } from 'vitest';
import {
  type Mat3,
  type Vec3,
  angleBetween,
  cross,
  rad,
  rotatePoint,
  rotateVec,
  rotationMatrix,
  toDeg,
  toRad,
  unit,
} from '../../../core/space';
import { poseAt } from '../../../core/travel';
import { expectClose, within } from '../../support/close';

const rows = (m: Mat3): number[][] => m.map((r) => [...r]);

describe('rotations', () => {
  it('120° about (1, 1, 1) exchanges the axes', () => {
    const t = rotationMatrix(unit([1, 1, 1]), rad((2 * Math.PI) / 3));
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
  it('(5, −6, 4) turned onto (8, 5, −30): 113.491368°, (2.232221, 1.395138, −8.370829)', () => {
    const [a, b]: Vec3[] = [
      [5, -6, 4],
      [8, 5, -30],
    ];
    const between = angleBetween(a!, b!);
    expectClose(toDeg(between), 113.491368, within(1e-6, '°'));
    expectClose(rotateVec(a!, unit(cross(a!, b!)), between), [2.232221, 1.395138, -8.370829], within(1e-6, '1'));
  });
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

// Vectors: what the published checks (tests/published/moments, rotation) don't reach.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Vec3,
  add,
  angleBetween,
  cross,
  distance,
  dot,
  isFiniteVec,
  mirrorPoint,
  moment,
  norm,
  perpendicularTo,
  scale,
  sub,
  toDeg,
  toRad,
  unit,
} from '../../../core/space';
import { direction, point } from '../../support/arbitrary';
import { expectClose, within } from '../../support/close';
import { deepFreeze } from '../../support/freeze';
import { refusal } from '../../support/refusal';

describe('vectors', () => {
  it('a force whose line meets the axis has none', () => {
    const axis = unit([-2, 0, 2]);
    const onAxis = scale(axis, 7.3);
    expectClose(moment(axis, onAxis, [25, -3, 11]), 0, within(1e-12, 'ft·lbf'));
    const force: Vec3 = [25, -3, 11];
    expectClose(moment(axis, sub(onAxis, scale(force, 0.4)), force), 0, within(1e-12, 'ft·lbf'));
  });
  it('axis (3, 1, −2), F (10, 20, 5), r (3, 0, −4): 65/√14', () => {
    expectClose(moment(unit([3, 1, -2]), [3, 0, -4], [10, 20, 5]), 17.371981, within(1e-6, '1'));
  });
  it('length and distance: 3-4-12-13', () => {
    expect(norm([3, -4, 12])).toBe(13);
    expect(distance([1, 1, 1], [4, 5, 13])).toBe(13);
  });
  it('cross product of unlike numbers: the middle component is not read after it was written', () =>
    expect(cross([1, 2, 3], [4, 5, 6])).toEqual([-3, 6, -3]));
  it('nothing is changed in place', () => {
    const [a, b] = [deepFreeze([1, 2, 3] as const), deepFreeze([4, 5, 6] as const)];
    add(a, b);
    sub(a, b);
    scale(a, 2);
    cross(a, b);
    unit(a);
    perpendicularTo(a, unit(b));
    mirrorPoint(a, b, unit(b)); // prettier-ignore
    expect([a, b]).toEqual([
      [1, 2, 3],
      [4, 5, 6],
    ]);
  });
  it('a direction of no length, or of no number, is refused', () => {
    for (const v of [
      [0, 0, 0],
      [NaN, 1, 0],
      [Infinity, 0, 0],
    ] as const)
      refusal(() => unit(v));
    refusal(() => angleBetween([0, 0, 0], [1, 0, 0]));
  });
  it('the cross product is square to both, the part square to n is, and mirroring twice is nothing', () => {
    fc.assert(
      fc.property(point(900), point(900), direction, point(500), (a, b, v, origin) => {
        const n = unit(v);
        expectClose([dot(cross(a, b), a), dot(cross(a, b), b)], [0, 0], within(1e-6, '1'));
        expectClose(dot(perpendicularTo(a, n), n), 0, within(1e-12 * 1000, '1'));
        const image = mirrorPoint(a, origin, n);
        expectClose(mirrorPoint(image, origin, n), a, within(1e-9, 'mm'));
        expectClose(dot(sub(scale(add(a, image), 0.5), origin), n), 0, within(1e-9, 'mm'));
        expectClose(cross(sub(a, image), n), [0, 0, 0], within(1e-9, 'mm'));
      }),
    );
  });
  it('tiny angles near 0 and 180° keep their digits', () => {
    for (const small of [1e-3, 1e-6, 1e-9, 1e-12]) {
      expectClose(
        angleBetween([5, 0, 0], [3 * Math.cos(small), 3 * Math.sin(small), 0]),
        small,
        within(1e-6 * small, 'rad'),
      );
      expectClose(
        Math.PI - angleBetween([5, 0, 0], [-3 * Math.cos(small), 3 * Math.sin(small), 0]),
        small,
        within(1e-6 * small + 1e-15, 'rad'),
      );
    }
  });
  it('degrees and radians there and back; finite or not', () => {
    expectClose(toDeg(toRad(37.123)), 37.123, within(1e-13, '°'));
    expect([isFiniteVec([1, 2, 3]), isFiniteVec([1, NaN, 3]), isFiniteVec([1, 2, -Infinity])]).toEqual([
      true,
      false,
      false,
    ]);
  });
});

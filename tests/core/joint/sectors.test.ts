import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allowedSectors } from '../../../core/joint';
import { runs } from '../../support/tier';
import { type Vec3, cross, norm, rad, rotateVec, unit } from '../../../core/space';

const coordinate = fc.double({ min: -5000, max: 5000, noNaN: true });
const point = fc.tuple(coordinate, coordinate, coordinate) as fc.Arbitrary<[number, number, number]>;

describe('allowedSectors', () => {
  /** Our own joint angle: |90° − angle between stem and strut|, by the arc tangent that keeps small angles exact. */
  const deviationDeg = (stem: Vec3, strut: Vec3): number => {
    const sine = norm(cross(stem, strut));
    const cosine = stem[0] * strut[0] + stem[1] * strut[1] + stem[2] * strut[2];
    return Math.abs(90 - (Math.atan2(sine, cosine) * 180) / Math.PI);
  };
  const direction = point.filter((p) => norm(p) > 1).map((p) => unit(p));

  it('agrees with the joint’s angle at every direction a strut may be turned to in the view', () => {
    fc.assert(
      fc.property(direction, direction, fc.double({ min: 1, max: 60, noNaN: true }), (stem, strut, rangeDeg) => {
        const flat = Math.hypot(strut[0], strut[1]);
        const sectors = allowedSectors(stem, strut, rangeDeg);
        for (let deg = 0; deg < 360; deg += 3) {
          const angle = (deg * Math.PI) / 180;
          const turned: Vec3 = [flat * Math.cos(angle), flat * Math.sin(angle), strut[2]];
          const slack = rangeDeg - deviationDeg(stem, turned);
          if (Math.abs(slack) < 1e-6) continue; // on the edge either answer is right
          const inSome =
            sectors === null ||
            sectors.some(([from, to]) => {
              const turn = (((angle - from) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
              return turn <= to - from;
            });
          expect(inSome, `${deg}°, ${slack}° inside`).toBe(slack > 0);
        }
      }),
      { numRuns: runs(3000) },
    );
  });

  it('a stem along the view allows every direction or none', () => {
    expect(allowedSectors([0, 0, 1], unit([3, 2, 0.1]), 18)).toBeNull();
    expect(allowedSectors([0, 0, 1], unit([3, 2, 5]), 18)).toEqual([]);
  });

  it('a pin square to the view allows a fan of twice its range, on both sides', () => {
    // stem up, strut in the view: the strut lies within ±18° of level
    const sectors = allowedSectors([0, 1, 0], unit([1, 0.1, 0]), 18)!;
    const widths = sectors.map(([from, to]) => ((to - from) * 180) / Math.PI);
    expect(widths[0]).toBeCloseTo(36, 9);
    expect(widths[1]).toBeCloseTo(36, 9);
    // turned about the view's axis, the fan turns along
    const turned = allowedSectors(rotateVec([0, 1, 0], [0, 0, 1], rad(0.4)), unit([1, 0.1, 0]), 18)!;
    expect(turned[0]![0] - sectors[0]![0]).toBeCloseTo(0.4, 9);
  });
});

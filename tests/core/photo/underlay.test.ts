import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mmPerPixel, mmToPixel, pixelToMm, underlayOf } from '../../../core/photo';
import { rad } from '../../../core/space';

const number = fc.double({ min: -4000, max: 4000, noNaN: true });

describe('a photo under a view', () => {
  it('pixel to mm and back', () => {
    fc.assert(
      fc.property(
        fc.record({
          anchorPx: fc.tuple(number, number),
          anchorMm: fc.tuple(number, number),
          mmPerPx: fc.double({ min: 0.01, max: 50, noNaN: true }),
          rotationRad: fc.double({ min: -7, max: 7, noNaN: true }).map(rad),
        }),
        number,
        number,
        (u, x, y) => {
          const [a, b] = mmToPixel(u, pixelToMm(u, [x, y]));
          expect(Math.hypot(a - x, b - y)).toBeLessThan(1e-6);
        },
      ),
    );
  });

  it('the anchor pixel lies on its mm; up on the photo is up; a positive turn is anticlockwise: sums by hand', () => {
    const u = underlayOf({
      anchorPx: [100, 200],
      anchorMm: [30, -40],
      widthPx: 1600,
      scale: { from: [0, 0], to: [30, 40], lengthMm: 100 },
    });
    expect(u.mmPerPx).toBe(2); // 100 mm over 50 px
    expect(pixelToMm(u, [100, 200])).toEqual([30, -40]);
    expect(pixelToMm(u, [110, 195])).toEqual([50, -30]);
    const turned = pixelToMm({ ...u, rotationRad: rad(Math.PI / 2) }, [110, 200]);
    expect(turned[0]).toBeCloseTo(30, 12);
    expect(turned[1]).toBeCloseTo(-20, 12);
  });

  it('in a view whose axis runs left, the anchor keeps the axis’ own sign', () => {
    const photo = { anchorPx: [0, 0] as const, anchorMm: [70, 5] as const, widthPx: 1000 };
    expect(underlayOf(photo, -1).anchorMm).toEqual([-70, 5]);
    expect(underlayOf(photo).mmPerPx).toBe(1.5); // unscaled: 1500 mm wide
  });

  it('two marks on one pixel, or a length that is none, give no scale', () => {
    expect(mmPerPixel([1, 1], [1.5, 1.5], 100)).toBeNull();
    for (const length of [0, -5, NaN, Infinity]) expect(mmPerPixel([0, 0], [10, 0], length)).toBeNull();
    expect(mmPerPixel([0, 0], [10, 0], 25)).toBe(2.5);
  });
});

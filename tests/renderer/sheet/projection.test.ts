import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mmToPixel, pixelToMm } from '../../../core/photo';
import { type Vec3, norm, rad } from '../../../core/space';
import {
  PROJECTIONS,
  fitSheet,
  fromPx,
  panBy,
  scaleBarMm,
  toPx,
  zoomAt,
} from '../../../renderer/views/sheet/projection';
import { type SheetView, keepPhotoStill } from '../../../renderer/state/planes';

const coordinate = fc.double({ min: -5000, max: 5000, noNaN: true });
const point = fc.tuple(coordinate, coordinate, coordinate) as fc.Arbitrary<[number, number, number]>;
const sheets = fc.record({ pxPerMm: fc.double({ min: 0.01, max: 20, noNaN: true }), centre: point });
const sizes = fc.record({ width: fc.integer({ min: 60, max: 3000 }), height: fc.integer({ min: 60, max: 2000 }) });
const projections = fc.constantFrom(...Object.values(PROJECTIONS));
const pixel = fc.double({ min: -500, max: 3500, noNaN: true });

describe('the three views', () => {
  it('lie as in first angle (ISO 5456-2): the side seen from starboard, top below it, from behind right of it', () => {
    const sheet = { pxPerMm: 0.5, centre: [10, 20, 30] as const };
    const size = { width: 400, height: 300 };
    const move = (plane: 'side' | 'top' | 'front', by: Vec3): [number, number] => {
      const [a, b] = [[1, 2, 3] as Vec3, [1 + by[0], 2 + by[1], 3 + by[2]] as Vec3];
      const [p, q] = [toPx(a, PROJECTIONS[plane], sheet, size), toPx(b, PROJECTIONS[plane], sheet, size)];
      return [q[0] - p[0], q[1] - p[1]];
    };
    // forward, port, up, by 8 mm each: 4 px, and y runs down
    expect([move('side', [8, 0, 0]), move('side', [0, 8, 0]), move('side', [0, 0, 8])]).toEqual([
      [4, 0],
      [0, 0],
      [0, -4],
    ]);
    expect([move('top', [8, 0, 0]), move('top', [0, 8, 0]), move('top', [0, 0, 8])]).toEqual([
      [4, 0],
      [0, -4],
      [0, 0],
    ]);
    expect([move('front', [8, 0, 0]), move('front', [0, 8, 0]), move('front', [0, 0, 8])]).toEqual([
      [0, 0],
      [-4, 0],
      [0, -4],
    ]);
  });

  it('stay in line: one X in side and top of equal width, one Z in side and front of equal height', () => {
    fc.assert(
      fc.property(sheets, point, sizes, sizes, (sheet, p, a, b) => {
        const below = { width: a.width, height: b.height };
        const beside = { width: b.width, height: a.height };
        const [side, top, front] = [
          toPx(p, PROJECTIONS.side, sheet, a),
          toPx(p, PROJECTIONS.top, sheet, below),
          toPx(p, PROJECTIONS.front, sheet, beside),
        ];
        expect(top[0]).toBe(side[0]);
        expect(front[1]).toBe(side[1]);
      }),
    );
  });

  it('pixels and mm are inverse, and what a view can’t show is kept', () => {
    fc.assert(
      fc.property(sheets, sizes, projections, point, pixel, pixel, (sheet, size, projection, keep, x, y) => {
        const p = fromPx(x, y, keep, projection, sheet, size);
        expect(p[projection.depth]).toBe(keep[projection.depth]);
        const [u, v] = toPx(p, projection, sheet, size);
        expect(Math.hypot(u - x, v - y)).toBeLessThan(1e-6);
      }),
    );
  });

  it('zoom keeps the mm under the pointer, and does not move the axis out of the view', () => {
    fc.assert(
      fc.property(sheets, sizes, projections, pixel, pixel, fc.double({ min: 0.2, max: 5, noNaN: true }), (...all) => {
        const [sheet, size, projection, x, y, factor] = all;
        const zoomed = zoomAt(sheet, factor, x, y, projection, size);
        const before = fromPx(x, y, [0, 0, 0], projection, sheet, size);
        const after = fromPx(x, y, [0, 0, 0], projection, zoomed, size);
        expect(norm([before[0] - after[0], before[1] - after[1], before[2] - after[2]])).toBeLessThan(1e-6);
        expect(zoomed.centre[projection.depth]).toBe(sheet.centre[projection.depth]);
      }),
    );
  });

  it('zoom has an end in both directions', () => {
    const size = { width: 300, height: 200 };
    let sheet: ReturnType<typeof zoomAt> = { pxPerMm: 1, centre: [0, 0, 0] };
    for (let i = 0; i < 100; i++) sheet = zoomAt(sheet, 2, 10, 10, PROJECTIONS.side, size);
    expect(sheet.pxPerMm).toBe(50);
    for (let i = 0; i < 100; i++) sheet = zoomAt(sheet, 0.5, 10, 10, PROJECTIONS.side, size);
    expect(sheet.pxPerMm).toBe(0.005);
  });

  it('pan moves what is drawn by the pointer’s travel', () => {
    fc.assert(
      fc.property(sheets, sizes, projections, point, pixel, pixel, (sheet, size, projection, p, dx, dy) => {
        const [x, y] = toPx(p, projection, sheet, size);
        const [u, v] = toPx(p, projection, panBy(sheet, dx, dy, projection), size);
        expect(Math.hypot(u - x - dx, v - y - dy)).toBeLessThan(1e-5);
      }),
    );
  });

  it('fit shows every point in every view, as large as it can', () => {
    fc.assert(
      fc.property(fc.array(point, { minLength: 2, maxLength: 12 }), sizes, (points, size) => {
        fc.pre(size.width > 200 && size.height > 200);
        const all = { side: size, top: size, front: size };
        const sheet = fitSheet(points, all);
        let nearest = Infinity;
        for (const projection of Object.values(PROJECTIONS))
          for (const p of points) {
            const [x, y] = toPx(p, projection, sheet, size);
            nearest = Math.min(nearest, x, y, size.width - x, size.height - y);
          }
        expect(nearest).toBeGreaterThan(10);
        if (sheet.pxPerMm < 49) expect(nearest).toBeLessThan(120); // no more air than that
      }),
    );
    expect(
      fitSheet([], { side: { width: 1, height: 1 }, top: { width: 1, height: 1 }, front: { width: 1, height: 1 } }),
    ).toEqual({ pxPerMm: 0.3, centre: [0, 0, 0] });
  });

  it('a traced photo stays where it is seen when its scale or anchor changes', () => {
    const underlay = fc.record({
      anchorPx: fc.tuple(fc.integer({ min: 0, max: 4000 }), fc.integer({ min: 0, max: 3000 })),
      anchorMm: fc.tuple(coordinate, coordinate),
      mmPerPx: fc.double({ min: 0.05, max: 10, noNaN: true }),
      rotationRad: fc.constant(rad(0)),
    });
    fc.assert(
      fc.property(sheets, sizes, underlay, underlay, pixel, pixel, (sheet, size, before, after, px, py) => {
        const seen = (u: typeof before, s: SheetView): [number, number] => {
          const [x, z] = pixelToMm(u, [px, py]);
          return toPx([x, 0, z], PROJECTIONS.side, s, size);
        };
        const [x, y] = seen(before, sheet);
        const [u, v] = seen(after, keepPhotoStill(sheet, before, after));
        expect(Math.hypot(u - x, v - y)).toBeLessThan(1e-6 * (1 + Math.hypot(x, y)));
        const back = mmToPixel(before, pixelToMm(before, [px, py]));
        expect(Math.hypot(back[0] - px, back[1] - py)).toBeLessThan(1e-6);
      }),
    );
  });

  it('the scale bar is 1, 2 or 5 times a power of ten of the unit shown and no longer than asked', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.005, max: 50, noNaN: true }),
        fc.integer({ min: 20, max: 300 }),
        fc.constantFrom(1, 10, 25.4),
        (scale, most, unitMm) => {
          const mm = scaleBarMm(scale, most, unitMm);
          const shown = mm / unitMm;
          expect([1, 2, 5]).toContain(Number((shown / 10 ** Math.floor(Math.log10(shown) + 1e-9)).toFixed(9)));
          expect(mm * scale).toBeLessThanOrEqual(most * (1 + 1e-9));
          expect(mm * scale * 2.51).toBeGreaterThan(most); // the next rounder one would be too long
        },
      ),
    );
  });
});

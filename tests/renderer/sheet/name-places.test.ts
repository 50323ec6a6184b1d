// Names of points in a view: laws over random points.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type Named, placeNames } from '../../../renderer/views/sheet/name-places';

const SIZE = { width: 400, height: 300 };
const HALF = 9;
const point = fc.record({
  x: fc.double({ min: 10, max: 390, noNaN: true }),
  y: fc.double({ min: 10, max: 290, noNaN: true }),
  width: fc.double({ min: 20, max: 120, noNaN: true }),
  must: fc.boolean(),
});
const points = fc
  .array(point, { maxLength: 14 })
  .map((list): Named[] => list.map((p, i) => ({ ...p, id: String(i), must: p.must && i % 5 === 0 })));
const TAKEN = [{ left: 0, top: 0, right: 90, bottom: 26 }];

it('lie in the view, off one another, off every point and off what is taken; those that must be there are', () => {
  fc.assert(
    fc.property(points, (wanted) => {
      const placed = placeNames(wanted, SIZE, TAKEN).map((p) => {
        const { width, must } = wanted.find((w) => w.id === p.id)!;
        return { ...p, must, left: p.x, right: p.x + width, top: p.y - HALF, bottom: p.y + HALF };
      });
      const ids = placed.map((p) => p.id);
      for (const { id, must } of wanted) if (must) expect(ids).toContain(id);
      for (const p of placed) {
        expect(p.left).toBeGreaterThanOrEqual(0);
        expect(p.right).toBeLessThanOrEqual(SIZE.width);
        expect(p.top).toBeGreaterThanOrEqual(0);
        expect(p.bottom).toBeLessThanOrEqual(SIZE.height);
        if (p.must) continue;
        const meets = (b: { left: number; top: number; right: number; bottom: number }): boolean =>
          p.left < b.right && b.left < p.right && p.top < b.bottom && b.top < p.bottom;
        expect(placed.some((other) => other !== p && meets(other))).toBe(false);
        expect(TAKEN.some(meets)).toBe(false);
        expect(wanted.some(({ x, y }) => meets({ left: x, right: x, top: y, bottom: y }))).toBe(false);
      }
    }),
  );
});

it('stand right and above where there is room, else where there is, and of two points on one another one is named', () => {
  const lone = (x: number, y: number, id = 'a'): Named => ({ id, x, y, width: 60, must: false });
  const [free] = placeNames([lone(200, 150)], SIZE);
  expect(free!.x).toBeGreaterThan(200);
  expect(free!.y).toBeLessThan(150);
  const [edge] = placeNames([lone(380, 150)], SIZE);
  expect(edge!.x + 60).toBeLessThan(380);
  expect(placeNames([lone(200, 150), lone(201, 150, 'b')], SIZE).map((p) => p.id)).toEqual(['a']);
});

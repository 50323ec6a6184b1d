import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LidwrightError } from '../../../core/error';
import { flatTriangles, slabMesh } from '../../../core/solid';
import { runs } from '../../support/tier';

type Flat = readonly [number, number];
const square = (x: number, y: number, side: number): Flat[] => [
  [x, y],
  [x + side, y],
  [x + side, y + side],
  [x, y + side],
];
const hole = (x: number, y: number, side: number): Flat[] => square(x, y, side).reverse();
const areaOf = (ring: readonly Flat[]): number =>
  ring.reduce((sum, [x, y], i) => {
    const [u, v] = ring[(i + 1) % ring.length]!;
    return sum + (x * v - u * y) / 2;
  }, 0);

describe('triangles of a flat shape', () => {
  it.each<[string, Flat[], Flat[][], RegExp]>([
    ['a hole outside', square(0, 0, 10), [hole(20, 4, 2)], /the hole whose rim reaches \(22\.00, 6\.00\) lies outside/],
    ['a bow tie', [[0, 0], [10, 10], [10, 0], [0, 10]], [], /crosses itself|nothing is left/], // prettier-ignore
    ['a line', [[0, 0], [5, 0], [10, 0], [7, 0]], [], /crosses itself near/], // prettier-ignore
    ['clockwise', square(0, 0, 10).reverse(), [], /crosses itself near/],
    ['two corners', [[0, 0], [5, 0]], [], /nothing is left/], // prettier-ignore
    ['a hole across the rim', square(0, 0, 10), [hole(8, 4, 4)], /can’t be cut into triangles/],
  ])('throws in words for %s, instead of passing a torn one on', (_, outline, holes, words) => {
    for (const make of [
      () => flatTriangles(outline, holes),
      () => slabMesh([outline, ...holes], [outline, ...holes], ([x, y], up) => [x, y, up ? 1 : 0]),
    ]) {
      expect(make).toThrow(LidwrightError);
      expect(make).toThrow(words);
      expect(make).toThrow(/Move or shrink a hole/);
    }
  });

  it('law: it covers the shape’s area, with every corner on a triangle, or throws in words', () => {
    const number = fc.integer({ min: -8, max: 24 });
    fc.assert(
      fc.property(fc.array(fc.tuple(number, number, fc.integer({ min: 1, max: 9 })), { maxLength: 4 }), (places) => {
        const outline = square(0, 0, 20);
        const holes = places.map(([x, y, side]) => hole(x, y, side));
        let triangles: ReturnType<typeof flatTriangles>;
        try {
          triangles = flatTriangles(outline, holes);
        } catch (error) {
          expect(error).toBeInstanceOf(LidwrightError);
          return;
        }
        const covered = triangles.reduce((sum, t) => sum + areaOf(t), 0);
        const inside = holes.reduce((sum, h) => sum + areaOf(h), areaOf(outline));
        expect(covered).toBeCloseTo(inside, 6);
        expect(triangles).toHaveLength(2 + 4 * holes.length + 2 * holes.length);
      }),
      { numRuns: runs(20_000) },
    );
  });
});

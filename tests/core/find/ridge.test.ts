import fc from 'fast-check';
import { expect, it } from 'vitest';
import { followRidge } from '../../../core/find/ridge';
import { runs } from '../../support/tier';

/** Gives each demand's share at a point. */
const judged =
  (demands: readonly ((x: Float64Array) => number)[]) =>
  (x: Float64Array, into: Float64Array): void =>
    demands.forEach((f, i) => (into[i] = f(x)));

it('reaches the top of a roof, known by hand, from anywhere in the box', () => {
  const at = fc.double({ min: 0, max: 1, noNaN: true });
  fc.assert(
    fc.property(fc.tuple(at, at, at), (start) => {
      // a steep ridge along x = y that rises to (0.8, 0.8): min of both sides and of a plane that falls from there
      const shares = judged([
        (x) => 0.2 + x[0]! - 8 * (x[0]! - x[1]!),
        (x) => 0.2 + x[0]! + 8 * (x[0]! - x[1]!),
        (x) => 1.8 - x[0]! - 0.5 * x[2]!,
      ]);
      const point = Float64Array.from(start);
      expect(followRidge(point, shares, 3)).toBeCloseTo(1, 3);
      expect(point[0]).toBeCloseTo(0.8, 2);
      expect(point[1]).toBeCloseTo(0.8, 2);
      expect(point[2]).toBeLessThan(0.01);
    }),
    { numRuns: runs(300) },
  );
});

it('goes along a bent ridge, which a step by slopes alone leaves', () => {
  // on the parabola y = x² both demands are alike; the height rises with x to 0.9
  const height = (x: number): number => x - Math.max(0, 3 * (x - 0.9));
  const shares = judged([
    (x) => height(x[0]!) + 5 * (x[1]! - x[0]! * x[0]!),
    (x) => height(x[0]!) - 5 * (x[1]! - x[0]! * x[0]!),
  ]);
  const point = Float64Array.of(0.1, 0.9);
  let score = 0;
  for (let go = 0; go < 6; go++) score = followRidge(point, shares, 2);
  expect(score).toBeGreaterThan(0.85);
});

it('never gives a worse point than it was given, whatever the demands do', () => {
  fc.assert(
    fc.property(fc.array(fc.double({ min: -3, max: 3, noNaN: true }), { minLength: 8, maxLength: 8 }), (k) => {
      const rough = judged([
        (x) => Math.sin(9 * k[0]! * x[0]!) + k[1]! * x[1]!,
        (x) => Math.abs(k[2]! * x[0]! - k[3]!) - 0.3 * Math.floor(3 * x[1]!),
        (x) => k[4]! - (k[5]! * x[0]! + k[6]! * x[1]! > k[7]! ? 100 : 0),
      ]);
      const into = new Float64Array(3);
      const point = Float64Array.of(0.4, 0.6);
      rough(point, into);
      const before = Math.min(...into);
      const score = followRidge(point, rough, 3);
      rough(point, into);
      expect(score).toBeGreaterThanOrEqual(before);
      expect(score).toBeCloseTo(Math.min(...into), 9);
      for (const v of point) expect(v >= 0 && v <= 1).toBe(true);
    }),
    { numRuns: runs(300) },
  );
});

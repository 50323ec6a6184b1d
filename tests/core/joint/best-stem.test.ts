// Best stems against grids, and what any best stem must obey.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bestAtTilt, bestAxialStem, bestStem, roundStem, worstDeviation, worstFromLine } from '../../../core/joint';
import { direction } from '../../support/arbitrary';
import { expectClose, within } from '../../support/close';
import { dir, inner, outer, size } from '../../support/naive';
import type { V3 } from '../../support/build';
import { anyMount, anySwing, seeded, stemBy, worstBy } from './swings';
import { runs } from '../../support/tier';

const STEP = Math.PI / 720;
/** The upper half of the sphere in steps of 0.25°: a stem and its opposite deviate alike. */
const SPHERE = (() => {
  const rows: number[] = [];
  for (let i = 0; i <= 360; i++) {
    const rise = i * STEP;
    const count = Math.max(1, Math.round(1440 * Math.cos(rise)));
    for (let k = 0; k < count; k++) {
      const turn = (2 * Math.PI * k) / count;
      rows.push(Math.cos(rise) * Math.cos(turn), Math.cos(rise) * Math.sin(turn), Math.sin(rise));
    }
  }
  return Float64Array.from(rows);
})();

/** Whether any stem of the grid stays under `sine` for every direction. */
function gridBeats(directions: Float64Array, sine: number): boolean {
  const n = directions.length / 3;
  // ends and middle first: nearly every stem is thrown out by one of them
  const order = [0, n - 1, n >> 1, ...Array.from({ length: n }, (_, i) => i)];
  const u = Float64Array.from(order.flatMap((i) => [...directions.slice(3 * i, 3 * i + 3)]));
  next: for (let g = 0; g < SPHERE.length; g += 3) {
    const [x, y, z] = [SPHERE[g]!, SPHERE[g + 1]!, SPHERE[g + 2]!];
    for (let i = 0; i < u.length; i += 3) if (Math.abs(x * u[i]! + y * u[i + 1]! + z * u[i + 2]!) > sine) continue next;
    return true;
  }
  return false;
}

describe('best stem, free on the sphere', () => {
  it('is never worse than the best of a 0.25° grid by more than 0.05° on random lids', () => {
    fc.assert(
      fc.property(anySwing, direction, (swing, near) => {
        const best = bestStem(swing, near);
        expectClose(size(best.stem), 1, within(1e-12, '1'));
        expectClose(best.deviationDeg, worstDeviation(swing, best.stem).deviationDeg, within(1e-7, '°'));
        expect(best.deviationDeg).toBeGreaterThanOrEqual(worstBy(swing, best.stem) - 1e-9);
        expect(inner(best.stem, near)).toBeGreaterThanOrEqual(-1e-12);
        const target = best.deviationDeg - 0.05;
        if (target > 0) expect(gridBeats(swing.directions, Math.sin((target * Math.PI) / 180))).toBe(false);
      }),
      { ...seeded, numRuns: runs(200) },
    );
  });
  it('the grid would notice: a stem 0.4° past the best is beaten by it', () => {
    fc.assert(
      fc.property(anySwing, (swing) => {
        const best = bestStem(swing);
        expect(gridBeats(swing.directions, Math.sin(((best.deviationDeg + 0.4) * Math.PI) / 180))).toBe(true);
      }),
      { ...seeded, numRuns: runs(20) },
    );
  });
  it('no small turn of it in any direction is better', () => {
    fc.assert(
      fc.property(anySwing, direction, (swing, way) => {
        const best = bestStem(swing);
        for (const k of [1e-2, 1e-4]) {
          const moved = dir(best.stem.map((v, i) => v + k * way[i]!) as unknown as V3);
          expect(worstDeviation(swing, moved).deviationDeg).toBeGreaterThan(best.deviationDeg - 1e-8);
        }
      }),
      { ...seeded, numRuns: runs(100) },
    );
  });
  it('a strut that swings in one plane is square to that plane’s normal, wherever it swings', () => {
    const normal = dir([0.3, -1, 0.44]);
    const p = dir([1, 0.3, 0]);
    const q = outer(normal, p);
    const at = (deg: number): V3 =>
      [0, 1, 2].map((i) => Math.cos(deg / 60) * p[i]! + Math.sin(deg / 60) * q[i]!) as unknown as V3;
    const angleDeg = Float64Array.from({ length: 61 }, (_, i) => i);
    const swing = { angleDeg, directions: Float64Array.from([...angleDeg].flatMap((d) => [...at(d)])), at };
    const best = bestStem(swing, [0, -1, 0]);
    expectClose(best.deviationDeg, 0, within(1e-9, '°'));
    expectClose(best.stem, normal, within(1e-9, '1'));
  });
  it('a strut that does not turn takes the stem nearest to the present one', () => {
    const u = dir([0.2, 0.9, -0.4]);
    const swing = { angleDeg: Float64Array.of(0, 30), directions: Float64Array.from([...u, ...u]), at: () => u };
    const best = bestStem(swing, [1, 0.2, 0.1]);
    expectClose(best.deviationDeg, 0, within(1e-9, '°'));
    expect(inner(best.stem, dir([1, 0.2, 0.1]))).toBeGreaterThan(0.9);
  });
});

describe('best stem at a tilt', () => {
  it('is never worse than the best of a 0.05° grid of azimuths, and the free one is no worse than it', () => {
    fc.assert(
      fc.property(anySwing, anyMount, fc.double({ min: -70, max: 70, noNaN: true }), (swing, mount, tiltDeg) => {
        const best = bestAtTilt(swing, mount, tiltDeg);
        expectClose(
          best.deviationDeg,
          worstDeviation(swing, stemBy(mount, best.azimuthDeg, tiltDeg)).deviationDeg,
          within(1e-7, '°'),
        );
        let brute = Infinity;
        for (let a = 0; a < 360; a += 0.05) {
          const stem = stemBy(mount, a, tiltDeg);
          // between the rows too, where it could win
          if (worstBy(swing, stem) < best.deviationDeg) brute = Math.min(brute, worstBy(swing, stem, 40));
        }
        expect(best.deviationDeg).toBeLessThan(brute + 1e-4);

        expect(bestStem(swing).deviationDeg).toBeLessThan(best.deviationDeg + 1e-7);
      }),
      { ...seeded, numRuns: runs(40) },
    );
  });
});

describe('best stem of an axial joint', () => {
  it('lies in the middle: no stem of a grid over the sphere stays nearer to the strut’s line', () => {
    fc.assert(
      fc.property(anySwing, (swing) => {
        const best = bestAxialStem(swing, [0, 0, 1]);
        const off = (n: V3): number => worstFromLine(swing, n).deviationDeg;
        expectClose(best.deviationDeg, off(best.stem), within(1e-9, '°'));
        for (let g = 0; g < SPHERE.length; g += 3 * 997)
          expect(off([SPHERE[g]!, SPHERE[g + 1]!, SPHERE[g + 2]!])).toBeGreaterThan(best.deviationDeg - 1e-6);
        for (const way of [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
          [-1, 1, 1],
          [1, -1, 1],
          [1, 1, -1],
        ])
          for (const k of [0.03, -0.03, 0.001])
            expect(off(dir(best.stem.map((v, i) => v + k * way[i]!) as unknown as V3))).toBeGreaterThan(
              best.deviationDeg - 1e-6,
            );
      }),
      { ...seeded, numRuns: runs(60) },
    );
  });
});

describe('rounding', () => {
  it('gives whole steps, says what they cost, and finds the best of the neighbours', () => {
    fc.assert(
      fc.property(anySwing, anyMount, fc.constantFrom(1, 5), (swing, mount, step) => {
        const best = bestStem(swing);
        const rounded = roundStem(swing, mount, best.stem, step);
        for (const v of [rounded.azimuthDeg, rounded.tiltDeg])
          expectClose(v / step, Math.round(v / step), within(1e-9, '1'));
        expectClose(rounded.stem, stemBy(mount, rounded.azimuthDeg, rounded.tiltDeg), within(1e-12, '1'));
        expect(rounded.costDeg).toBeGreaterThan(-1e-7);
        expectClose(rounded.deviationDeg - rounded.costDeg, best.deviationDeg, within(1e-7, '°'));
        // half a step either way is the furthest a neighbour lies from it
        expect(rounded.costDeg).toBeLessThan(step);
        for (const da of [-step, 0, step])
          for (const dt of [-step, 0, step])
            if (Math.abs(rounded.tiltDeg + dt) <= 90 && Math.abs(rounded.tiltDeg) < 80)
              expect(worstBy(swing, stemBy(mount, rounded.azimuthDeg + da, rounded.tiltDeg + dt), 3)).toBeGreaterThan(
                rounded.deviationDeg - 1.2 * step,
              );
      }),
      { ...seeded, numRuns: runs(60) },
    );
  });
});

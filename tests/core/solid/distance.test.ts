// Distances of straight pieces to solids against dense sampling, and what any distance must obey.
import {
  type Segment,
  type Solid,
  boxSolid,
  cylinderSolid,
  meshSolid,
  outlineSolid,
  segmentToSegment,
  segmentToTriangle,
} from '../../../core/solid';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bracketMesh } from '../../../core/bracket';
import { guardBracket } from '../../../core/bracket/examples';
import { boxAxes, obstacleSolid } from '../../../core/clearance';
import { point } from '../../support/arbitrary';
import type { V3 } from '../../support/build';
import { expectClose, within } from '../../support/close';
import { dir, inner, minus, outer, plus, size, spin, times } from '../../support/naive';
import { runs } from '../../support/tier';

const span = (min: number, max: number) => fc.integer({ min: min * 100, max: max * 100 }).map((n) => n / 100);
const segment: fc.Arbitrary<Segment> = fc
  .tuple(point(120), point(120))
  .filter(([p, q]) => size(minus(p, q)) > 1)
  .map(([p, q]) => ({ p, q }));
const seeded = { seed: 20261125, numRuns: runs(1500) };
const along = ({ p, q }: Segment, t: number): V3 => plus(p as V3, times(minus(q as V3, p as V3), t));

/** Least of f over the piece by 400 samples; f moves no faster than the piece is long. */
function sampled(pc: Segment, f: (at: V3) => number): { least: number; slack: number } {
  let least = Infinity;
  for (let i = 0; i <= 400; i++) least = Math.min(least, f(along(pc, i / 400)));
  return { least, slack: size(minus(pc.q as V3, pc.p as V3)) / 800 };
}

/** A gap must be right: not over what sampling finds, not further under it than sampling can miss, between points that are where they should be. */
function agrees(solid: Solid, pc: Segment, f: (at: V3) => number): void {
  const gap = solid.gapTo(pc);
  const { least, slack } = sampled(pc, f);
  expect(gap.distanceMm).toBeLessThanOrEqual(least + 1e-6);
  expect(gap.distanceMm).toBeGreaterThanOrEqual(least - slack - 1e-6);
  expectClose(size(minus(gap.here as V3, gap.there as V3)), gap.distanceMm, within(1e-6, 'mm'));
  expectClose(f(gap.there as V3), 0, within(1e-6, 'mm'));
  // here lies on the piece
  const u = minus(pc.q as V3, pc.p as V3);
  const w = minus(gap.here as V3, pc.p as V3);
  expectClose(size(outer(u, w)) / size(u), 0, within(1e-6, 'mm'));
  expect(size(minus(solid.centre as V3, gap.there as V3))).toBeLessThanOrEqual(solid.reachMm + 1e-6);
}

describe('a piece and a box', () => {
  it('agree with sampling, turned any way', () => {
    fc.assert(
      fc.property(
        segment,
        point(60),
        fc.tuple(span(5, 90), span(5, 90), span(5, 90)),
        fc.tuple(span(-180, 180), span(-180, 180), span(-180, 180)),
        (pc, centre, sizeMm, rotationDeg) => {
          const solid = obstacleSolid({ box: { centre, sizeMm, rotationDeg } });
          // turned about X, then Y, then Z, by quaternions
          const turn = (v: V3): V3 =>
            [0, 1, 2].reduce<V3>(
              (w, k) => spin(w, [k === 0 ? 1 : 0, k === 1 ? 1 : 0, k === 2 ? 1 : 0], (rotationDeg[k]! * Math.PI) / 180),
              v,
            );
          const axes = [turn([1, 0, 0]), turn([0, 1, 0]), turn([0, 0, 1])];
          const off = (at: V3): number =>
            Math.hypot(...axes.map((a, k) => Math.max(0, Math.abs(inner(a, minus(at, centre))) - sizeMm[k]! / 2)));
          agrees(solid, pc, off);
          expectClose(boxAxes(rotationDeg), axes, within(1e-12, '1'));
        },
      ),
      seeded,
    );
  });
});

describe('a piece and a cylinder', () => {
  it('agree with sampling: flat ends, not round ones', () => {
    fc.assert(
      fc.property(
        segment,
        point(80),
        point(80).filter((v) => size(v) > 3),
        span(3, 60),
        (pc, from, way, radius) => {
          const to = plus(from, way);
          const off = (at: V3): number => {
            const a = dir(way);
            const h = inner(minus(at, from), a);
            const r = size(minus(minus(at, from), times(a, h)));
            return Math.hypot(Math.max(0, r - radius), Math.max(0, -h, h - size(way)));
          };
          agrees(cylinderSolid(from, to, radius), pc, off);
        },
      ),
      seeded,
    );
  });
});

/** An outline that does not cross itself: corners at growing angles, any radius, so often not convex. */
const outline = fc.array(span(8, 90), { minLength: 3, maxLength: 9 }).map((radii) =>
  radii.map((r, i): readonly [number, number] => {
    const a = (2 * Math.PI * (i + 0.3)) / radii.length;
    return [20 + r * Math.cos(a), -10 + r * Math.sin(a)];
  }),
);

describe('a piece and a traced outline with a depth', () => {
  it('agree with sampling in each view, also where the outline is not convex', () => {
    fc.assert(
      fc.property(
        segment,
        outline,
        span(-60, 20),
        span(3, 70),
        fc.constantFrom('side', 'top', 'front'),
        (pc, corners, low, depth, view) => {
          const solid = obstacleSolid({ traced: { view, corners, depthMm: [low + depth, low] } });
          const pick = { side: [0, 2, 1], top: [0, 1, 2], front: [1, 2, 0] }[view] as [number, number, number];
          const off = (at: V3): number => {
            const [x, y, d] = pick.map((k) => at[k]!) as unknown as V3;
            // inside by the sum of the angles under which the sides are seen
            let turn = 0;
            let near = Infinity;
            corners.forEach((a, i) => {
              const b = corners[(i + 1) % corners.length]!;
              turn += Math.atan2(
                (a[0] - x) * (b[1] - y) - (a[1] - y) * (b[0] - x),
                (a[0] - x) * (b[0] - x) + (a[1] - y) * (b[1] - y),
              );
              const l2 = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2;
              const t = Math.min(1, Math.max(0, ((x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1])) / l2));
              near = Math.min(near, Math.hypot(x - a[0] - t * (b[0] - a[0]), y - a[1] - t * (b[1] - a[1])));
            });
            const flat = Math.abs(turn) > Math.PI ? 0 : near;
            return Math.hypot(flat, Math.max(0, low - d, d - low - depth));
          };
          agrees(solid, pc, off);
        },
      ),
      { ...seeded, numRuns: runs(4000) },
    );
  });
  it('a piece that goes clean through an end face is at 0, one that only looks into a bay is not', () => {
    // a U open to +x, 10 deep
    const corners: [number, number][] = [
      [0, 0],
      [40, 0],
      [40, 10],
      [10, 10],
      [10, 30],
      [40, 30],
      [40, 40],
      [0, 40],
    ];
    const u = outlineSolid({ origin: [0, 0, 0], x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] }, corners, 0, 10);
    expect(u.gapTo({ p: [5, 5, -20], q: [5, 5, 30] }).distanceMm).toBe(0);
    expectClose(u.gapTo({ p: [30, 20, -20], q: [30, 20, 30] }).distanceMm, 10, within(1e-9, 'mm'));
    expectClose(u.gapTo({ p: [60, 20, 5], q: [18, 20, 5] }).distanceMm, 8, within(1e-9, 'mm'));
    expectClose(u.gapTo({ p: [5, 5, 13], q: [5, 35, 17] }).distanceMm, 3, within(1e-9, 'mm'));
  });
});

describe('a piece and a mesh', () => {
  const mesh = bracketMesh(guardBracket, 24);
  const solid = meshSolid(mesh, (p) => p);
  it('agree with sampling against every triangle, sampled too', () => {
    const corner = (i: number): V3 => [
      mesh.positionsMm[3 * i]!,
      mesh.positionsMm[3 * i + 1]!,
      mesh.positionsMm[3 * i + 2]!,
    ];
    const cloud: V3[] = [];
    for (let t = 0; t < mesh.triangles.length; t += 3) {
      const [a, b, c] = [0, 1, 2].map((k) => corner(mesh.triangles[t + k]!)) as [V3, V3, V3];
      for (let i = 0; i <= 6; i++)
        for (let k = 0; k <= 6 - i; k++) cloud.push(plus(times(a, i / 6), times(b, k / 6), times(c, (6 - i - k) / 6)));
    }
    fc.assert(
      fc.property(segment, (pc) => {
        const gap = solid.gapTo(pc).distanceMm;
        let least = Infinity;
        const u = minus(pc.q as V3, pc.p as V3);
        for (const at of cloud) {
          const t = Math.min(1, Math.max(0, inner(minus(at, pc.p as V3), u) / inner(u, u)));
          least = Math.min(least, size(minus(at, along(pc, t))));
        }
        // triangles are up to 40 mm long, so their samples stand up to 4 mm apart
        expect(gap).toBeLessThanOrEqual(least + 1e-9);
        expect(gap).toBeGreaterThan(least - 4);
      }),
      seeded,
    );
  });
  it('a short piece all inside the plate is at 0', () => {
    expect(solid.gapTo({ p: [-12, 15, 1], q: [-12.2, 15, 1.1] }).distanceMm).toBe(0);
    expect(solid.gapTo({ p: [-12, 15, 4], q: [-12.2, 15, 4.1] }).distanceMm).toBeGreaterThan(1.9);
  });
});

describe('pieces and triangles', () => {
  it('two pieces agree with sampling both, whichever is asked', () => {
    fc.assert(
      fc.property(segment, segment, (a, b) => {
        const gap = segmentToSegment(a, b);
        expectClose(segmentToSegment(b, a).distanceMm, gap.distanceMm, within(1e-6, 'mm'));
        const u = minus(b.q as V3, b.p as V3);
        const { least, slack } = sampled(a, (at) =>
          size(minus(at, along(b, Math.min(1, Math.max(0, inner(minus(at, b.p as V3), u) / inner(u, u)))))),
        );
        expect(gap.distanceMm).toBeLessThanOrEqual(least + 1e-9);
        expect(gap.distanceMm).toBeGreaterThan(least - slack - 1e-9);
      }),
      seeded,
    );
  });
  it('a triangle is as far as the nearest of its points', () => {
    fc.assert(
      fc.property(segment, point(100), point(100), point(100), (pc, a, b, c) => {
        const gap = segmentToTriangle(pc, [a, b, c]).distanceMm;
        let least = Infinity;
        const u = minus(pc.q as V3, pc.p as V3);
        for (let i = 0; i <= 60; i++)
          for (let k = 0; k <= 60 - i; k++) {
            const at = plus(times(a, i / 60), times(b, k / 60), times(c, (60 - i - k) / 60));
            const t = Math.min(1, Math.max(0, inner(minus(at, pc.p as V3), u) / inner(u, u)));
            least = Math.min(least, size(minus(at, along(pc, t))));
          }
        expect(gap).toBeLessThanOrEqual(least + 1e-9);
        expect(gap).toBeGreaterThan(least - 5);
      }),
      { ...seeded, numRuns: runs(600) },
    );
  });
  it('parallel pieces: known results', () => {
    expectClose(
      segmentToSegment({ p: [0, 0, 0], q: [10, 0, 0] }, { p: [3, 4, 0], q: [9, 4, 0] }).distanceMm,
      4,
      within(1e-12, 'mm'),
    );
    expectClose(
      segmentToSegment({ p: [0, 0, 0], q: [10, 0, 0] }, { p: [13, 4, 0], q: [19, 4, 0] }).distanceMm,
      5,
      within(1e-12, 'mm'),
    );
    // skew lines of an open textbook (tests/published/skew-lines), and where they are nearest
    const far = (p: V3, d: V3): Segment => ({ p: plus(p, times(d, -9)), q: plus(p, times(d, 9)) });
    const gap = segmentToSegment(far([1, 1, 0], [2, -1, 1]), far([2, 1, -1], [3, -5, 2]));
    expectClose(gap.distanceMm, 10 / Math.sqrt(59), within(1e-9, 'mm'));
    expectClose(gap.here, [1.847458, 0.576271, 0.423729], within(1e-6, 'mm'));
    expectClose(
      boxSolid(
        [0, 0, 0],
        [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
        ],
        [2, 3, 4],
      ).gapTo({ p: [5, 7, 0], q: [5, 7, 1] }).distanceMm,
      5,
      within(1e-7, 'mm'),
    );
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type GroupBolt,
  inPlaneForces,
  liftForces,
  plateSection,
  ribbedSection,
  roundStress,
  sectionStress,
  vonMises,
  weldForces,
  weldGroup,
  weldRuns,
} from '../../../core/strength';
import { expectClose, withinEither } from '../../support/close';

const mm = (min = -200, max = 200) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });
const newton = mm(-5000, 5000);
const N = withinEither(1e-5, 1e-8, 'N');
const NMM = withinEither(1e-2, 1e-8, 'N·mm');

/** 2 to 6 fixings, no two at one place, not all within a millimetre. */
const group = fc
  .array(fc.tuple(mm(), mm()), { minLength: 2, maxLength: 6 })
  .filter((p) => p.every((a, i) => p.every((b, j) => i >= j || Math.hypot(a[0] - b[0], a[1] - b[1]) > 5)))
  .map((p) => p.map(([xMm, yMm]): GroupBolt => ({ xMm, yMm })));

describe('fixings in the plane', () => {
  it('balance the load: force and moment', () => {
    fc.assert(
      fc.property(group, newton, newton, mm(-1e6, 1e6), (bolts, fx, fy, m) => {
        const { forcesN } = inPlaneForces(bolts, fx, fy, m)!;
        expectClose(
          [0, 1].map((k) => forcesN.reduce((s, f) => s + f[k]!, 0)),
          [fx, fy],
          N,
        );
        expectClose(
          forcesN.reduce((s, [x, y], i) => s + bolts[i]!.xMm * y - bolts[i]!.yMm * x, 0),
          m,
          NMM,
        );
      }),
    );
  });
  it('add up: two loads together are their sum, and forces scale with the load', () => {
    fc.assert(
      fc.property(group, newton, newton, mm(-1e6, 1e6), mm(0.1, 9), (bolts, fx, fy, m, k) => {
        const a = inPlaneForces(bolts, fx, 0, 0)!.forcesN;
        const b = inPlaneForces(bolts, 0, fy, m)!.forcesN;
        const both = inPlaneForces(bolts, k * fx, k * fy, k * m)!.forcesN;
        expectClose(
          both.flat(),
          a.flatMap((f, i) => [k * (f[0] + b[i]![0]), k * (f[1] + b[i]![1])]),
          N,
        );
      }),
    );
  });
  it('do not care for the frame: turned and moved together, the forces turn along', () => {
    fc.assert(
      fc.property(group, newton, newton, mm(-1e6, 1e6), mm(-3, 3), mm(), mm(), (bolts, fx, fy, m, angle, dx, dy) => {
        const [c, s] = [Math.cos(angle), Math.sin(angle)];
        const turn = ([x, y]: readonly [number, number]): [number, number] => [c * x - s * y, s * x + c * y];
        const moved = bolts.map((b): GroupBolt => {
          const [x, y] = turn([b.xMm, b.yMm]);
          return { xMm: x + dx, yMm: y + dy };
        });
        const [tx, ty] = turn([fx, fy]);
        const there = inPlaneForces(moved, tx, ty, m + dx * ty - dy * tx)!.forcesN;
        expectClose(
          there.flat(),
          inPlaneForces(bolts, fx, fy, m)!.forcesN.flatMap((f) => turn(f)),
          withinEither(1e-4, 1e-7, 'N'),
        );
      }),
    );
  });
  it('a slot gives nothing along itself, and the rest still balances', () => {
    const bolts: GroupBolt[] = [
      { xMm: -20, yMm: 0 },
      { xMm: 20, yMm: 7, slot: [1, 0] },
    ];
    const { forcesN } = inPlaneForces(bolts, 300, -800, 12_345)!;
    expectClose(forcesN[1]![0], 0, N);
    expectClose(forcesN[0]![0], 300, N);
    expectClose(forcesN[0]![1] + forcesN[1]![1], -800, N);
    expectClose(
      forcesN.reduce((s, [x, y], i) => s + bolts[i]!.xMm * y - bolts[i]!.yMm * x, 0),
      12_345,
      NMM,
    );
  });
  it('slots all one way hold nothing that way; a single round hole holds no torque', () => {
    const slot = [1, 0] as const;
    expect(
      inPlaneForces(
        [
          { xMm: -20, yMm: 0, slot },
          { xMm: 20, yMm: 0, slot },
        ],
        100,
        0,
        0,
      ),
    ).toBeNull();
    const one = inPlaneForces([{ xMm: 10, yMm: 0 }], 30, 40, 10 * 40 + 555)!;
    expect(one.forcesN).toEqual([[30, 40]]);
    expectClose(one.leftTorqueNmm, 555, NMM);
  });
});

describe('fixings out of the plane', () => {
  const foot = { xMinMm: -60, xMaxMm: 5, yMinMm: -40, yMaxMm: 40 };
  const inside = fc
    .array(fc.tuple(mm(-55, 0), mm(-35, 35)), { minLength: 1, maxLength: 6 })
    .map((p) => p.map(([xMm, yMm]): GroupBolt => ({ xMm, yMm })));
  it('balance pull or push and both moments, with tensions and contacts that only pull and only press', () => {
    fc.assert(
      fc.property(inside, newton, mm(-1e5, 1e5), mm(-1e5, 1e5), (bolts, fz, mx, my) => {
        const { tensionN, contacts } = liftForces(bolts, foot, fz, mx, my)!;
        const all = [
          ...tensionN.map((t, i) => ({ xMm: bolts[i]!.xMm, yMm: bolts[i]!.yMm, up: -t })),
          ...contacts.map((c) => ({ ...c, up: c.forceN })),
        ];
        expectClose(all.reduce((s, a) => s + a.up, 0) + fz, 0, N);
        expect(Math.min(...tensionN, ...contacts.map((c) => c.forceN))).toBeGreaterThanOrEqual(0);
        for (const c of contacts) {
          expect(c.xMm).toBeGreaterThanOrEqual(foot.xMinMm - 1e-9);
          expect(c.xMm).toBeLessThanOrEqual(foot.xMaxMm + 1e-9);
          expect(Math.abs(c.yMm)).toBeLessThanOrEqual(40 + 1e-9);
        }
        // r × F of an upward force: (y·up, −x·up)
        expectClose(all.reduce((s, a) => s - a.xMm * a.up, 0) + my, 0, withinEither(0.1, 1e-7, 'N·mm'));
        expectClose(all.reduce((s, a) => s + a.yMm * a.up, 0) + mx, 0, withinEither(0.1, 1e-7, 'N·mm'));
      }),
    );
  });
  it('a push whose line meets the footprint lifts nothing', () => {
    fc.assert(
      fc.property(inside, mm(-59, 4), mm(-39, 39), mm(1, 5000), (bolts, x, y, push) => {
        const { tensionN } = liftForces(bolts, foot, -push, y * -push, -x * -push)!;
        expectClose(Math.max(...tensionN), 0, withinEither(1e-5, 0, 'N'));
      }),
    );
  });
});

describe('welds as lines', () => {
  const edges = fc.constantFrom('all' as const, 'sides' as const, 'ends' as const);
  it('balance force and moment in all three directions', () => {
    fc.assert(
      fc.property(
        edges,
        mm(10, 100),
        mm(10, 100),
        newton,
        newton,
        newton,
        mm(-1e5, 1e5),
        mm(-1e5, 1e5),
        (e, l, b, fx, fy, fz, mx, my) => {
          const mz = mx - my / 2;
          const weld = weldGroup(weldRuns({ xMinMm: -l, xMaxMm: 0, yMinMm: -b / 2, yMaxMm: b / 2 }, e));
          const f = weldForces(weld, [fx, fy, fz], [mx, my, mz]);
          // force per length runs straight between the two ends of a run: Simpson's rule is exact for force and moment
          const sum = [0, 0, 0, 0, 0, 0];
          for (let i = 0; i < f.length; i += 2) {
            const [p, q] = [f[i]!, f[i + 1]!];
            const length = Math.hypot(q.xMm - p.xMm, q.yMm - p.yMm);
            for (const [w, t] of [
              [1 / 6, 0],
              [4 / 6, 0.5],
              [1 / 6, 1],
            ] as const) {
              const x = p.xMm + t * (q.xMm - p.xMm);
              const y = p.yMm + t * (q.yMm - p.yMm);
              const v = [0, 1, 2].map((k) => (p.vector[k]! + t * (q.vector[k]! - p.vector[k]!)) * length * w);
              v.forEach((c, k) => (sum[k]! += c));
              sum[3]! += y * v[2]!;
              sum[4]! -= x * v[2]!;
              sum[5]! += x * v[1]! - y * v[0]!;
            }
          }
          expectClose(sum.slice(0, 3), [fx, fy, fz], N);
          expectClose(sum.slice(3), [mx, my, mz], withinEither(1, 1e-7, 'N·mm'));
        },
      ),
    );
  });
});

describe('sections', () => {
  it('scale: twice the size bears four times the force and eight times the moment', () => {
    fc.assert(
      fc.property(
        mm(1, 20),
        mm(21, 100),
        mm(1, 1000),
        mm(1, 1000),
        mm(1, 1e5),
        mm(1, 1e5),
        mm(1, 1e5),
        (t, b, n, v, mw, ms, mt) => {
          const one = sectionStress(plateSection(t, b), {
            axialN: n,
            shearN: v,
            weakNmm: mw,
            strongNmm: ms,
            torsionNmm: mt,
          });
          const two = sectionStress(plateSection(2 * t, 2 * b), {
            axialN: 4 * n,
            shearN: 4 * v,
            weakNmm: 8 * mw,
            strongNmm: 8 * ms,
            torsionNmm: 8 * mt,
          });
          expectClose(two, one, withinEither(0, 1e-9, 'MPa'));
          expectClose(
            roundStress(2 * t, 8 * mw, 4 * n, 4 * v).equivalent,
            roundStress(t, mw, n, v).equivalent,
            withinEither(0, 1e-9, 'MPa'),
          );
        },
      ),
    );
  });
  it('a rib never weakens, and a T is what the parallel-axis theorem says', () => {
    // flange 40 × 4, rib 4 × 20: by hand, from the outer face: area 240, centroid (160·2 + 80·14)/240 = 6 mm,
    // I = 40·4³/12 + 160·4² + 4·20³/12 + 80·8² = 10 560 mm⁴, to the far tip 18 mm: W = 586.667 mm³
    expectClose(ribbedSection(4, 40, 4, 20, 1).weakMm3, 10560 / 18, withinEither(1e-9, 1e-12, 'mm³'));
    fc.assert(
      fc.property(mm(1, 10), mm(20, 100), mm(1, 10), mm(0, 60), (t, b, rib, depth) => {
        const bare = plateSection(t, b);
        const ribbed = ribbedSection(t, b, rib, depth, 1);
        expect(ribbed.weakMm3).toBeGreaterThanOrEqual(bare.weakMm3 - 1e-9);
        expect(ribbed.areaMm2).toBeGreaterThanOrEqual(bare.areaMm2 - 1e-9);
      }),
    );
  });
  it('a section used up by holes bears nothing', () => {
    const gone = plateSection(4, 20, [{ atMm: 0, diameterMm: 20 }]);
    expect(sectionStress(gone, { axialN: 1, shearN: 0, weakNmm: 0, strongNmm: 0, torsionNmm: 0 })).toBe(Infinity);
  });
  it('von Mises does not see an all-round pressure', () => {
    fc.assert(
      fc.property(mm(), mm(), mm(), mm(), mm(), (x, y, z, xy, p) => {
        expectClose(
          vonMises({ x: x + p, y: y + p, z: z + p, xy }),
          vonMises({ x, y, z, xy }),
          withinEither(1e-5, 1e-8, 'MPa'),
        );
      }),
    );
  });
});

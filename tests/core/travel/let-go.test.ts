// What a lid does when it is let go, against its motion over time; seal, wind, latch and an accelerated base.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Job, readJob, resolveJob } from '../../../core/job';
import { checkJob } from '../../../core/result';
import { rad, toRad } from '../../../core/space';
import { leanDeg, letGo, makeFrame, makePlan, openTurning, potentialJ, turnOf } from '../../../core/travel';
import { anyLid, anyPressedLid } from '../../support/arbitrary';
import { type V3, constantForce, lid } from '../../support/build';
import { expectClose, within, withinEither } from '../../support/close';
import { naive } from '../../support/naive';
import { runs } from '../../support/tier';

/** A lid in one load case, its moments by the plain sums of tests/support/naive.ts, N·m. */
function still(job: Job) {
  const resolved = resolveJob(job);
  const frame = makeFrame(resolved);
  const plan = makePlan(frame, resolved.loadCases[0]!.id);
  const at = (rad: number) => naive(resolved, 0, frame.axis.opening, rad);
  return {
    plan,
    opening: (rad: number): number => at(rad).openingNmm! / 1000,
    closing: (rad: number): number => at(rad).closingNmm! / 1000,
  };
}

/** Classical Runge–Kutta of fourth order for I·θ″ = M(θ) from a push until `to` is reached; gives the gain of ½I·ω², J. */
function gainOfMotion(moment: (rad: number) => number, from: number, to: number, pushJ: number): number {
  const inertia = 3.7; // kg·m²: any gives the same energy
  const way = to > from ? 1 : -1;
  let [angle, speed] = [from, way * Math.sqrt((2 * pushJ) / inertia)];
  for (let steps = 0; steps < 100_000; steps++) {
    const h = Math.abs(to - from) / 400 / Math.max(Math.abs(speed), 0.05);
    const [a1, v1] = [moment(angle) / inertia, speed];
    const [a2, v2] = [moment(angle + (h / 2) * v1) / inertia, speed + (h / 2) * a1];
    const [a3, v3] = [moment(angle + (h / 2) * v2) / inertia, speed + (h / 2) * a2];
    const [a4, v4] = [moment(angle + h * v3) / inertia, speed + h * a3];
    const next = angle + (h / 6) * (v1 + 2 * v2 + 2 * v3 + v4);
    const faster = speed + (h / 6) * (a1 + 2 * a2 + 2 * a3 + a4);
    if (way * (next - to) >= 0) {
      // energy at `to`: over the last bit the moment is as good as constant
      const share = (to - angle) / (next - angle);
      const energy = (v: number): number => (inertia * v * v) / 2;
      return energy(speed) + share * (energy(faster) - energy(speed)) - pushJ;
    }
    [angle, speed] = [next, faster];
  }
  throw new Error('the lid never arrives');
}

describe('let go', () => {
  it('gains what its motion over time gains (RK4, friction opposing), within 0.1 %', () => {
    let moved = 0;
    fc.assert(
      fc.property(fc.oneof(anyLid(), anyPressedLid()), (job) => {
        const { plan, opening, closing } = still(job);
        const found = letGo(plan);
        for (const [way, moment] of [
          [found.opening!, opening],
          [found.shutting!, closing],
        ] as const) {
          if (way.fromDeg === null) continue;
          moved++;
          // past the end of the travel the sums go on: the last step may look there
          const [from, to] = [toRad(way.fromDeg), toRad(way.toDeg!)];
          const inside = (rad: number): number =>
            moment(Math.min(Math.max(rad, Math.min(from, to)), Math.max(from, to)));
          const gain = gainOfMotion(inside, from, to, Math.max(0.1, way.energyJ / 20));
          expectClose(way.energyJ, gain, withinEither(2e-4, 1e-3, 'J'));
        }
      }),
      { numRuns: runs(200) },
    );
    expect(moved).toBeGreaterThan(runs(200) / 2);
  });

  it('no stretch of the travel gains more', () => {
    fc.assert(
      fc.property(fc.oneof(anyLid(), anyPressedLid()), (job) => {
        const { plan, opening, closing } = still(job);
        const found = letGo(plan);
        const n = 1500;
        const step = toRad(plan.openDeg) / n;
        const sum = (moment: (rad: number) => number): number => {
          let [best, run] = [0, 0];
          for (let i = 0; i < n; i++) {
            run = Math.max(0, run) + moment((i + 0.5) * step) * step;
            best = Math.max(best, run);
          }
          return best;
        };
        expectClose(found.opening!.energyJ, sum(opening), withinEither(5e-3, 1e-3, 'J'));
        // shutting, the way back: −M_closing, and the order of the steps turned round is the same stretch
        expectClose(
          found.shutting!.energyJ,
          sum((rad) => -closing(rad)),
          withinEither(5e-3, 1e-3, 'J'),
        );
      }),
      { numRuns: runs(60) },
    );
  });

  it('without friction the gain of either way is the change of weight, gas and seal energy between its ends', () => {
    let ran = 0;
    fc.assert(
      fc.property(anyPressedLid({ struts: { min: 1, max: 2 } }), (drawn) => {
        const job: Job = {
          ...drawn,
          hinge: { ...drawn.hinge, frictionNm: 0 },
          struts: drawn.struts.map((s) => ({ ...s, spec: { ...s.spec, frictionN: 0 } })),
          loadCases: drawn.loadCases.map(({ wind: _wind, ...c }) => ({ ...c, force: 'nominal' as const })),
        };
        const { plan } = still(job);
        const { opening, shutting } = letGo(plan);
        const { forceN, overMm } = resolveJob(job).seal!;
        /** What is stored at an angle, J, against any fixed level. */
        const stored = (at: number): number => {
          let gas = 0;
          for (const s of plan.struts) {
            // gas: ∫ F ds of one closed volume at one temperature, check-values I.9
            const { rodAreaMm2: a, fillPerMm: c, ratedMPa } = s.gas;
            const pushedIn = s.extendedMm - Math.sqrt(s.law.k + s.law.p * Math.cos(at) + s.law.q * Math.sin(at));
            const full = ratedMPa * ((plan.tempC + 273.15) / 293.15) * (1 - 5 * c);
            const work = c === 0 ? full * pushedIn : (-full / c) * Math.log(1 - c * pushedIn);
            gas += (s.quantity * a * (work - 0.101325 * pushedIn)) / 1000;
          }
          const way = Math.min(plan.seal!.radiusMm * at, overMm);
          return gas - (forceN * (way - (way * way) / (2 * overMm))) / 1000 + potentialJ(plan, rad(at));
        };
        for (const { energyJ, fromDeg, toDeg } of [opening!, shutting!]) {
          if (fromDeg === null) continue;
          ran++;
          const lost = stored(toRad(fromDeg)) - stored(toRad(toDeg!));
          expectClose(energyJ, lost, withinEither(2e-5, 1e-7, 'J'));
        }
      }),
      { numRuns: runs(400) },
    );
    expect(ran).toBeGreaterThan(runs(400) / 2);
  });

  it('a strut that can not be there over the whole travel leaves nothing to tell', () => {
    const job = lid({
      ...{ a: [0, -300, 0], b: [0, 300, 0], grip: [800, 0, 0], masses: [{ kg: 20, at: [400, 0, 0] }] },
      struts: [{ base: [100, 0, -300], lid: [300, 0, 0], spec: { extendedMm: 2000, strokeMm: 100 } }],
    });
    const { letGo: found, latchN } = checkJob(job).cases[0]!;
    expect(found).toEqual({
      ...{ openingJ: null, openingFromDeg: null, openingToDeg: null },
      ...{ shuttingJ: null, shuttingFromDeg: null, shuttingToDeg: null, gripAtShutN: null },
    });
    expect(latchN).toBeNull();
  });
});

/*
By hand. A lid 0.8 m deep (X) and 0.6 m wide (Y) on a hinge along Y through the origin, 20 kg at (400, 0, 0), opens up.
Centre of the outline (400, 0, 0): r = 400 mm. No struts.

Seal 60 N over 8 mm, at 1°: s = 400·π/180 = 6.981317 mm, F = 60·(1 − 6.981317/8) = 7.640122 N, M = 7.640122·0.4 = 3.056049 N·m.
Wind 10 m/s, coefficient 2, A = 0.48 m²: q = 61.25 N/m², q·C·A = 58.8 N.
  towards +X, lid open 30°: opened, the lid's normal (the way it opens) is (−sin 30°, 0, cos 30°), so w·n = −0.5:
  F = −29.4 N along n, at 0.4 m: M = −11.76 N·m. "open" gives +58.8·0.4 = 23.52 at every angle, "shut" −23.52.
Braking 0.5 g (accelG −0.5 along X), open 30°: g⃗ = (0.5·9.80665, 0, −9.80665); the centre is at 0.4·(cos 30°, 0, sin 30°).
  Moment about the axis that opens (0, −1, 0): M = −(z·gx − x·gz)·m = −(0.2·4.903325 + 0.346410·9.80665)·20
  = −(0.980665 + 3.397123)·20 = −87.555765 N·m.
Latch at (790, 0, 0), a strut of a constant 500 N from (300, 0, −400) straight up to (300, 0, 0): lever arm 300 mm shut.
  M(0) = 500·0.3 − 20·9.80665·0.4 + 60·0.4 = 150 − 78.4532 + 24 = 95.5468 N·m; latch 95.5468/0.79 = 120.945316 N,
  grip at (800, 0, 0): hinge friction 2 N·m opposes: 93.5468/0.8 = 116.9335 N.
*/
describe('by hand', () => {
  const base = lid({
    ...{ a: [0, -300, 0], b: [0, 300, 0], grip: [800, 0, 0], masses: [{ kg: 20, at: [400, 0, 0] }], openDeg: 60 },
  });
  const corners = { c0: [0, -300, 0], c1: [800, -300, 0], c2: [800, 300, 0], c3: [0, 300, 0] } as const;
  const plate: Job = {
    ...base,
    points: [...base.points, ...Object.entries(corners).map(([id, at]) => ({ id, on: 'lid' as const, at }))],
    outline: Object.keys(corners),
  };
  const travelOf = (job: Job) => checkJob(readJob(JSON.stringify(job))).cases[0]!.travel;
  const withCase = (loadCase: object): Job => ({ ...plate, loadCases: [{ id: 'only', ...loadCase }] });
  const nm = within(1e-6, 'N·m');
  it('seal', () => {
    const t = travelOf({ ...plate, seal: { forceN: 60, overMm: 8 } });
    expectClose(t.sealNm[0], 24, nm);
    expectClose(t.sealNm[1], 3.056049, nm);
    expectClose(t.sealNm[2], 0, nm);
    expectClose(t.openingMomentNm[0], 24 - 78.4532, nm);
  });
  it('wind', () => {
    const wind = { ms: 10, coefficient: 2 };
    expectClose(travelOf(withCase({ wind: { ...wind, towards: [3, 0, 0] } })).windNm[30], -11.76, nm);
    expectClose(travelOf(withCase({ wind: { ms: 10, towards: 'open' } })).windNm[30], 23.52, nm);
    expectClose(travelOf(withCase({ wind: { ...wind, towards: 'shut' } })).windNm[30], -23.52, nm);
    // corners the other way round: the way the lid opens counts, not their order
    const other = { ...withCase({ wind: { ...wind, towards: 'open' } }), outline: Object.keys(corners).reverse() };
    expectClose(travelOf(other).windNm[30], 23.52, nm);
  });
  it('acceleration', () => {
    const t = travelOf(withCase({ accelG: [-0.5, 0, 0] }));
    expectClose(t.weightMomentNm[30], -87.555765, nm);
  });
  it('latch and grip', () => {
    const job: Job = {
      ...lid({
        ...{ a: [0, -300, 0], b: [0, 300, 0], grip: [800, 0, 0], masses: [{ kg: 20, at: [400, 0, 0] }], openDeg: 20 },
        frictionNm: 2,
        struts: [{ base: [300, 0, -400], lid: [300, 0, 0], spec: constantForce(500, 520, 200) }],
      }),
      outline: Object.keys(corners),
      seal: { forceN: 60, overMm: 8 },
      latch: { at: 'latch', ratedN: 100 },
    };
    const points = [
      ...job.points,
      ...plate.points.slice(-4),
      { id: 'latch', on: 'base' as const, at: [790, 0, 0] as const },
    ];
    const found = checkJob({ ...job, points }).cases[0]!;
    expectClose(found.latchN, 120.945316, within(1e-5, 'N'));
    expectClose(found.letGo.gripAtShutN, 116.9335, within(1e-5, 'N'));
  });
});

describe('laws of the added loads', () => {
  it('an acceleration is a tilted base: sideways tan φ is φ of slope with the weights over cos φ', () => {
    fc.assert(
      fc.property(anyLid(), fc.double({ min: -30, max: 30, noNaN: true }), fc.boolean(), (job, deg, sideways) => {
        const tilt = toRad(deg);
        const only = job.loadCases[0]!;
        const level = { ...only, pitchDeg: 0, rollDeg: 0 };
        // nose down, weight pulls forward as it does in a base that is braked; left side up, it pulls to the right
        const accelG = sideways ? [0, Math.tan(tilt), 0] : [-Math.tan(tilt), 0, 0];
        const slope = sideways ? { rollDeg: deg } : { pitchDeg: deg };
        const heavy = { ...job, masses: job.masses.map((m) => ({ ...m, kg: (m.kg as number) / Math.cos(tilt) })) };
        const accelerated = checkJob({ ...job, loadCases: [{ ...level, accelG: accelG as never }] }).cases[0]!;
        const tilted = checkJob({ ...heavy, loadCases: [{ ...level, ...slope }] }).cases[0]!;
        for (const row of ['weightMomentNm', 'handOpeningN', 'handClosingN', 'hingeAN', 'hingeBN'] as const)
          expectClose(accelerated.travel[row], tilted.travel[row], withinEither(1e-7, 1e-9, 'its unit'));
        expectClose(accelerated.dropEnergyJ, tilted.dropEnergyJ, withinEither(1e-8, 1e-9, 'J'));
        expectClose(accelerated.restAnglesDeg, tilted.restAnglesDeg, within(1e-4, '°'));
      }),
      { numRuns: runs(300) },
    );
  });

  it('of a hinge within 10° of upright, what is asked for from above comes out, whatever the lean', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 9.9, noNaN: true }),
        fc.double({ min: 0, max: 360, noNaN: true }),
        fc.boolean(),
        fc.constantFrom<'up' | 'down'>('up', 'down'),
        fc.constantFrom<'clockwise' | 'anticlockwise'>('clockwise', 'anticlockwise'),
        (deg, toward, turned, opens, turn) => {
          const [lean, way] = [toRad(deg), toRad(toward)];
          const up: V3 = [
            Math.sin(lean) * Math.cos(way) * 600,
            Math.sin(lean) * Math.sin(way) * 600,
            Math.cos(lean) * 600,
          ];
          const zero: V3 = [0, 0, 0];
          const [a, b] = turned ? [up, zero] : [zero, up];
          const job = lid({ a, b, grip: [800, 90, 300], masses: [{ kg: 20, at: [400, 50, 300] }], opens });
          const { axis } = makeFrame(resolveJob(openTurning(job, { turn })));
          expectClose(leanDeg(axis), deg, within(1e-9, '°'));
          // seen from above, a point ahead of the hinge that turns anticlockwise goes to the left (+Y)
          expect(Math.sign(axis.opening[2])).toBe(turn === 'anticlockwise' ? 1 : -1);
          expect(turnOf(axis)).toBe(turn);
        },
      ),
      { numRuns: runs(300) },
    );
  });

  it('an upright hinge opens anticlockwise seen from above where it opens "up", clockwise where it opens "down"', () => {
    for (const [top, bottom] of [
      [300, -300],
      [-300, 300],
    ])
      for (const opens of ['up', 'down'] as const) {
        const job = lid({
          ...{ a: [0, 0, top!], b: [0, 0, bottom!], grip: [800, 0, 0], masses: [{ kg: 20, at: [400, 0, 0] }], opens },
        });
        const { axis } = makeFrame(resolveJob(job));
        expect(axis.opening).toEqual([0, 0, opens === 'up' ? 1 : -1].map((v) => expect.closeTo(v, 12)));
      }
  });
});

// Rest angles against a dense scan of the plain sums; pairs of roots inside one table step; the largest fall.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Job, resolveJob } from '../../../core/job';
import { toRad } from '../../../core/space';
import { checkJob } from '../../../core/result';
import { makeFrame, makePlan, largestFall, restAngles } from '../../../core/travel';
import { anyLid } from '../../support/arbitrary';
import { constantForce, lid, planOf, type V3 } from '../../support/build';
import { expectClose, within, withinEither } from '../../support/close';
import { heightEnergyJ, meanMomentNmm, naive, scanRoots } from '../../support/naive';
import { runs } from '../../support/tier';

/** Mean moment of a job's first case by the plain sums, at an angle in degrees; NaN where a strut can't be. */
function moment(job: Job): { at: (deg: number) => number; openDeg: number } {
  const resolved = resolveJob(job);
  const plan = makePlan(makeFrame(resolved), resolved.loadCases[0]!.id);
  return {
    openDeg: plan.openDeg,
    at: (deg) => meanMomentNmm(resolved, naive(resolved, 0, plan.axis.opening, toRad(deg))) ?? NaN,
  };
}

describe('rest angles', () => {
  it('are the roots of a dense scan, no more and no fewer', () => {
    let some = 0;
    fc.assert(
      fc.property(anyLid({ struts: { min: 1, max: 2 } }), fc.double({ min: 0.4, max: 1, noNaN: true }), (job, cut) => {
        const short = {
          ...job,
          struts: job.struts.map((s) => ({
            ...s,
            spec: { ...s.spec, strokeMm: Math.max(21, (s.spec.strokeMm as number) * cut) },
          })),
        } as Job;
        const { at, openDeg } = moment(short);
        const wanted = scanRoots(at, 0, openDeg, 1500);
        const found = restAngles(planOf(short));
        // a root within a whisker of a run's end may be seen by one of the two only
        const inner = (roots: number[]): number[] =>
          roots.filter((r) => !Number.isNaN(at(r - 0.2)) && !Number.isNaN(at(r + 0.2)) && r > 0.2 && r < openDeg - 0.2);
        expectClose(inner(found), inner(wanted), within(1e-4, '°'));
        expectClose(checkJob(short).cases[0]!.restAnglesDeg, found, within(0, '°'));
        some += found.length;
      }),
      { numRuns: runs(600, 60) },
    );
    expect(some).toBeGreaterThan(5);
  });

  it('pairs of roots inside one table step are both found', () => {
    let pairs = 0;
    fc.assert(
      fc.property(
        anyLid({ struts: { min: 1, max: 1 } }),
        fc.double({ min: 0.02, max: 0.9, noNaN: true }),
        (random, apartDeg) => {
          const constant = (forceN: number): Job =>
            ({
              ...random,
              loadCases: [{ ...random.loadCases[0]!, tempC: 20, force: 'nominal' }],
              struts: random.struts.map((s) => ({
                ...s,
                spec: { ...s.spec, ratio: 1, frictionN: 0, forceN, toleranceN: [0, 0] },
              })),
            }) as Job;
          // the force that balances each angle; where it turns back, a little more or less of it balances two angles
          const resolved = resolveJob(constant(500));
          const plan = makePlan(makeFrame(resolved), 'case0');
          const balance = (deg: number): number => {
            const n = naive(resolved, 0, plan.axis.opening, toRad(deg));
            return -n.weightNmm / (resolved.struts[0]!.quantity * n.struts[0]!.leverMm);
          };
          const step = plan.openDeg / 100;
          let turn: number | null = null;
          for (let d = 2; d + 2 < plan.openDeg && turn === null; d += step) {
            const [b, m, f] = [balance(d - step), balance(d), balance(d + step)];
            if (m > 30 && m < 5000 && (m - b) * (f - m) < 0) turn = d;
          }
          fc.pre(turn !== null);
          // the extremum itself, by golden section
          const sign = balance(turn!) > balance(turn! + step) ? 1 : -1;
          let [lo, hi] = [turn! - step, turn! + step];
          for (let k = 0; k < 60; k++) {
            const [p, q] = [lo + 0.382 * (hi - lo), lo + 0.618 * (hi - lo)];
            if (sign * balance(p) > sign * balance(q)) hi = q;
            else lo = p;
          }
          const top = (lo + hi) / 2;
          const forceN = (balance(top - apartDeg / 2) + balance(top + apartDeg / 2)) / 2;
          fc.pre(forceN > 30);
          const job = constant(forceN);
          const { at } = moment(job);
          const near = scanRoots(at, top - 1, top + 1, 800);
          fc.pre(near.length === 2 && near[1]! - near[0]! < 1);
          pairs++;
          const found = restAngles(planOf(job)).filter((r) => r > top - 1 && r < top + 1);
          expectClose(found, near, within(1e-4, '°'));
        },
      ),
      { numRuns: runs(250, 25) },
    );
    expect(pairs).toBeGreaterThanOrEqual(25);
  });

  const level = (forceN: number, arm: V3, extra: Partial<Parameters<typeof lid>[0]> = {}): Job =>
    lid({
      a: [0, 300, 0],
      b: [0, -300, 0],
      grip: [700, 5, 0],
      masses: [{ kg: 10, at: arm }],
      struts: [
        { base: [60, 290, -350], lid: [200, 295, 0], spec: { ...constantForce(forceN, 620, 400), toleranceN: [0, 0] } },
      ],
      openDeg: 80,
      ...extra,
    });
  it('a strut far too weak or far too strong has none', () => {
    expect(restAngles(planOf(level(1, [350, 3, 0])))).toEqual([]);
    expect(restAngles(planOf(level(5000, [350, 3, 0])))).toEqual([]);
  });
  it('a lid in balance everywhere names none', () => {
    // no strut, and the mass on the axis: nothing turns it
    const job = lid({ a: [0, 300, 0], b: [0, -300, 0], grip: [700, 5, 0], masses: [{ kg: 10, at: [0, 20, 0] }] });
    expect(restAngles(planOf(job))).toEqual([]);
  });
  it('without a strut the roots of the weight moment are where the centre of mass is plumb over or under the hinge', () => {
    const job = lid({
      a: [0, 300, 0],
      b: [0, -300, 0],
      grip: [700, 5, 0],
      masses: [{ kg: 10, at: [300, 3, 100] }],
      openDeg: 175,
    });
    expectClose(restAngles(planOf(job)), [90 - (Math.atan2(100, 300) * 180) / Math.PI], within(1e-7, '°'));
  });
  it('stay inside the travel and rise', () => {
    fc.assert(
      fc.property(anyLid({ struts: { min: 1, max: 2 } }), (job) => {
        const plan = planOf(job);
        const roots = restAngles(plan);
        roots.forEach((r, i) => {
          expect(r).toBeGreaterThanOrEqual(0);
          expect(r).toBeLessThanOrEqual(plan.openDeg);
          if (i > 0) expect(r).toBeGreaterThan(roots[i - 1]!);
        });
      }),
      { numRuns: runs(600) },
    );
  });
});

describe('the largest fall without the strut', () => {
  it('is the largest drop of height energy that a dense scan finds between two angles with no hill between', () => {
    fc.assert(
      fc.property(anyLid({ struts: { min: 0, max: 0 } }), (job) => {
        const resolved = resolveJob(job);
        const plan = makePlan(makeFrame(resolved), 'case0');
        const steps = 2000;
        const heights = Array.from({ length: steps + 1 }, (_, i) =>
          heightEnergyJ(naive(resolved, 0, plan.axis.opening, toRad((plan.openDeg * i) / steps))),
        );
        let best = 0;
        // walk up and down: a run of falling (or, the other way, rising) heights is one fall
        for (let i = 0; i < steps;) {
          const sign = Math.sign(heights[i + 1]! - heights[i]!);
          let k = i + 1;
          while (k < steps && Math.sign(heights[k + 1]! - heights[k]!) === sign) k++;
          best = Math.max(best, Math.abs(heights[k]! - heights[i]!));
          i = k;
        }
        const fall = largestFall(plan);
        const range = Math.max(...heights) - Math.min(...heights);
        expectClose(fall.energyJ, best, withinEither(1e-5 * range + 1e-9, 0, 'J'));
        const energyAt = (deg: number): number => heightEnergyJ(naive(resolved, 0, plan.axis.opening, toRad(deg)));
        expectClose(energyAt(fall.fromDeg) - energyAt(fall.toDeg), fall.energyJ, withinEither(1e-7, 1e-9, 'J'));
      }),
      { numRuns: runs(600) },
    );
  });
});

// What any right answer must obey, over random lids: seeds are printed when a law breaks.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Job, resolveJob } from '../../../core/job';
import { rad, toRad } from '../../../core/space';
import { checkJob } from '../../../core/result';
import { caseTable, kinematics, makeFrame, makePlan, potentialJ, sweep, travelAngles } from '../../../core/travel';
import { anyLid, anyPressedLid, point } from '../../support/arbitrary';
import { type V3 } from '../../support/build';
import { expectClose, withinEither } from '../../support/close';
import { dir, heightEnergyJ, inner, minus, naive, outer, plus, size, times } from '../../support/naive';
import { runs } from '../../support/tier';

const RUNS = { numRuns: runs(600) };

function swept(job: Job) {
  const resolved = resolveJob(job);
  const frame = makeFrame(resolved);
  const plan = makePlan(frame, resolved.loadCases[0]!.id);
  const angles = travelAngles(frame.openDeg, frame.openDeg / 9);
  return { resolved, plan, angles, table: sweep(plan, angles) };
}

describe('laws of the travel table', () => {
  it('every row agrees with the plain sums at the same angle', () => {
    fc.assert(
      fc.property(fc.oneof(anyLid(), anyPressedLid()), (job) => {
        const { resolved, plan, angles, table } = swept(job);
        angles.forEach((deg, i) => {
          const n = naive(resolved, 0, plan.axis.opening, toRad(deg));
          const scale = n.masses.reduce((s, m) => s + m.kg * 9.81 * (size(minus(m.at, n.a)) + 1), 1) / 1000;
          expectClose(table.weightMomentNm[i], n.weightNmm / 1000, withinEither(1e-12 * scale, 1e-9, 'N·m'));
          n.struts.forEach((s, k) => {
            const row = table.struts[k]!;
            expectClose(row.lengthMm[i], s.lengthMm, withinEither(1e-9, 1e-10, 'mm'));
            expectClose(row.extendingN[i], s.outN, withinEither(1e-6, 1e-8, 'N'));
            expectClose(row.compressingN[i], s.inN, withinEither(1e-6, 1e-8, 'N'));
          });
          expectClose(table.openingMomentNm[i], n.openingNmm! / 1000, withinEither(1e-3, 1e-6, 'N·m'));
          expectClose(table.closingMomentNm[i], n.closingNmm! / 1000, withinEither(1e-3, 1e-6, 'N·m'));
        });
      }),
      RUNS,
    );
  });

  it('lever arm is the slope of the length over the angle (fourth-order difference)', () => {
    fc.assert(
      fc.property(anyLid({ struts: { min: 1, max: 2 } }), (job) => {
        const { resolved, plan, angles, table } = swept(job);
        angles.forEach((deg, i) =>
          naive(resolved, 0, plan.axis.opening, toRad(deg)).struts.forEach((s, k) =>
            expectClose(table.struts[k]!.leverArmMm[i], s.armMm, withinEither(2e-6, 1e-8, 'mm')),
          ),
        );
      }),
      RUNS,
    );
  });

  it('work of the weight moment over the travel is the drop of potential energy', () => {
    fc.assert(
      fc.property(anyLid({ struts: { min: 0, max: 0 } }), (job) => {
        const { resolved, plan } = swept(job);
        const open = toRad(plan.openDeg);
        // Gauss–Legendre with 3 points on 40 pieces: exact to far below the tolerance for one sine wave
        let work = 0;
        const pieces = 40;
        const nodes: [number, number][] = [
          [-Math.sqrt(0.6), 5 / 9],
          [0, 8 / 9],
          [Math.sqrt(0.6), 5 / 9],
        ];
        for (let k = 0; k < pieces; k++)
          for (const [x, w] of nodes) {
            const angle = ((k + 0.5 + x / 2) * open) / pieces;
            const row = sweep(plan, Float64Array.of((angle * 180) / Math.PI));
            work += (w / 2) * (open / pieces) * row.weightMomentNm[0]!;
          }
        const drop =
          heightEnergyJ(naive(resolved, 0, plan.axis.opening, 0)) -
          heightEnergyJ(naive(resolved, 0, plan.axis.opening, open));
        expectClose(work, drop, withinEither(1e-7, 1e-8, 'J'));
        expectClose(potentialJ(plan, rad(0)) - potentialJ(plan, open), drop, withinEither(1e-7, 1e-8, 'J'));
        expectClose(checkJob(job).cases[0]!.dropEnergyJ, -drop, withinEither(1e-7, 1e-8, 'J'));
      }),
      RUNS,
    );
  });

  it('reactions balance force and moment about any point, with the mirrored twin, the hand and the friction couple', () => {
    fc.assert(
      fc.property(anyPressedLid({ struts: { min: 0, max: 2 } }), point(2000), (job, pole) => {
        const { resolved, plan, angles, table } = swept(job);
        angles.forEach((deg, i) => {
          const n = naive(resolved, 0, plan.axis.opening, toRad(deg));
          const along = dir(minus(n.b, n.a));
          const middle = times(plus(n.a, n.b), 0.5);
          const loads: { at: V3; f: V3 }[] = n.masses.map((m) => ({ at: m.at, f: times(n.gravity, m.kg) }));
          n.struts.forEach((s, k) => {
            // a strut through the axis has no side of its own: the table's sign says which friction it took
            const f = times(s.u, table.struts[k]!.leverArmMm[i]! >= 0 ? s.outN! : s.inN!);
            loads.push({ at: s.lid, f });
            if (resolved.struts[k]!.quantity === 2) {
              // the twin: pivots mirrored one by one, its push taken along its own line
              const mirror = (p: V3): V3 => minus(p, times(along, 2 * inner(minus(p, middle), along)));
              const lid = mirror(s.lid);
              loads.push({ at: lid, f: times(dir(minus(lid, mirror(s.base))), size(f)) });
            }
          });
          const arm = minus(n.grip, n.a);
          const tangent = dir(outer(n.opening, arm));
          loads.push(...n.pressed);
          loads.push({ at: n.grip, f: times(tangent, table.handOpeningN[i]!) });
          const three = (row: Float64Array): V3 => [row[3 * i]!, row[3 * i + 1]!, row[3 * i + 2]!];
          loads.push({ at: n.a, f: three(table.hingeAN) }, { at: n.b, f: three(table.hingeBN) });
          loads.push({ at: n.a, f: times(along, table.hingeAxialN[i]!) });
          const force = plus(...loads.map((l) => l.f));
          const couple = times(n.opening, -1000 * resolved.hinge.frictionNm);
          const moment = plus(couple, ...loads.map((l) => outer(minus(l.at, pole), l.f)));
          const total = loads.reduce((s, l) => s + size(l.f), 1);
          // the lever arm here comes from a difference, so the hand's share is good to about 1e-8 of all loads
          expectClose(force, [0, 0, 0], withinEither(1e-10 * total, 0, 'N'));
          expectClose(moment, [0, 0, 0], withinEither(1e-6 * total, 0, 'N·mm'));
          // radial parts are radial
          for (const row of [table.hingeAN, table.hingeBN])
            expect(Math.abs(inner(three(row), along))).toBeLessThan(1e-10 * total);
        });
      }),
      RUNS,
    );
  });

  it('scaling: all masses k-fold make weight moment, balance force and drop energy k-fold and leave the geometry', () => {
    fc.assert(
      fc.property(anyLid({ struts: { min: 1, max: 1 } }), fc.double({ min: 1e-2, max: 1e2, noNaN: true }), (job, k) => {
        const base = checkJob({ ...job, hinge: { ...job.hinge, frictionNm: 0 } }).cases[0]!;
        const heavy = checkJob({
          ...job,
          hinge: { ...job.hinge, frictionNm: 0 },
          masses: job.masses.map((m) => ({ ...m, kg: (m.kg as number) * k })),
        }).cases[0]!;
        const scaled = (row: (number | null)[], by: number): (number | null)[] =>
          row.map((v) => (v === null ? null : v * by));
        expectClose(
          heavy.travel.weightMomentNm,
          scaled(base.travel.weightMomentNm, k),
          withinEither(1e-9 * k, 1e-11, 'N·m'),
        );
        expectClose(
          heavy.travel.struts[0]!.balanceForceN,
          scaled(base.travel.struts[0]!.balanceForceN, k),
          withinEither(1e-9 * k, 1e-9, 'N'),
        );
        expectClose(heavy.travel.struts[0]!.lengthMm, base.travel.struts[0]!.lengthMm, withinEither(0, 0, 'mm'));
        expectClose(heavy.dropEnergyJ, base.dropEnergyJ * k, withinEither(1e-9 * k, 1e-11, 'J'));
      }),
      { numRuns: runs(300) },
    );
  });

  it('scaling: all lengths k-fold from 1e-1 to 1e1 make the weight moment and the drop energy k-fold', () => {
    fc.assert(
      fc.property(anyLid({ struts: { min: 0, max: 0 } }), fc.double({ min: 0.1, max: 10, noNaN: true }), (job, k) => {
        // shrunk tenfold a grip can come within the millimetre of the axis that is refused as no arm at all
        fc.pre(makeFrame(resolveJob(job)).gripRadiusMm * k > 2);
        const base = checkJob(job).cases[0]!;
        const big = checkJob({
          ...job,
          points: job.points.map((p) => ({ ...p, at: p.at.map((v) => (v as number) * k) as unknown as V3 })),
        }).cases[0]!;
        base.travel.weightMomentNm.forEach((v, i) =>
          expectClose(big.travel.weightMomentNm[i], v! * k, withinEither(1e-9 * k, 1e-10, 'N·m')),
        );
        expectClose(big.dropEnergyJ, base.dropEnergyJ * k, withinEither(1e-9 * k, 1e-10, 'J'));
        expectClose(big.openDeg, base.openDeg, withinEither(0, 0, '°'));
      }),
      { numRuns: runs(300) },
    );
  });

  it('load cases over shared poses, and rows used again for another job, give what each sweep gives alone', () => {
    fc.assert(
      fc.property(
        anyLid({ struts: { min: 1, max: 1 }, cases: 2 }),
        anyLid({ struts: { min: 1, max: 1 } }),
        (job, other) => {
          const frame = makeFrame(resolveJob(job));
          const plans = job.loadCases.map((c) => makePlan(frame, c.id));
          const angles = Float64Array.of(0, frame.openDeg / 3, frame.openDeg);
          const poses = kinematics(frame, angles);
          const tables = plans.map((plan) => caseTable(plan, poses));
          tables.forEach((table, c) => expect(table).toEqual(sweep(plans[c]!, angles)));

          const { plan } = swept(other);
          const again = Float64Array.of(0, plan.openDeg / 2, plan.openDeg);
          const reused = caseTable(plan, kinematics(plan, again, poses), tables[0]);
          const fresh = sweep(plan, again);
          expect({ ...reused, caseId: fresh.caseId }).toEqual(fresh);
        },
      ),
      RUNS,
    );
  });
});

// The same scene seen otherwise: moved, turned, mirrored, hinge points swapped. Nothing a person cares about may change.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Job, type JobStrut, resolveJob } from '../../../core/job';
import { checkJob } from '../../../core/result';
import { makeFrame, makePlan } from '../../../core/travel';
import { anyLid, direction, point } from '../../support/arbitrary';
import type { V3 } from '../../support/build';
import { type Tolerance, expectClose, withinEither } from '../../support/close';
import { dir, spin } from '../../support/naive';
import { runs } from '../../support/tier';

type Case = ReturnType<typeof checkJob>['cases'][number];
const tol = (abs: number, unit: string): Tolerance => withinEither(abs, 1e-7, unit);

/** All scalars of two cases agree. */
function expectSame(got: Case, want: Case): void {
  expectClose(got.openDeg, want.openDeg, tol(1e-9, '°'));
  expectClose(got.dropEnergyJ, want.dropEnergyJ, tol(1e-7, 'J'));
  expectClose(got.largestFallJ, want.largestFallJ, tol(1e-7, 'J'));
  for (const row of ['weightMomentNm', 'handOpeningN', 'handClosingN'] as const)
    expectClose(got.travel[row], want.travel[row], tol(1e-6, 'N or N·m'), row);
  want.travel.struts.forEach((strut, k) => {
    const other = got.travel.struts[k]!;
    for (const row of ['lengthMm', 'leverArmMm', 'extendingN', 'compressingN', 'baseJointDeg', 'lidJointDeg'] as const)
      expectClose(other[row], strut[row], tol(1e-6, 'mm, N or °'), row);
    strut.leverArmMm.forEach((arm, i) => {
      // the balance force is weight moment over arm: near a dead centre it only repeats what rounding left of the arm
      if (Math.abs(arm!) > 0.1)
        expectClose(other.balanceForceN[i], strut.balanceForceN[i]!, withinEither(1e-4, 1e-6, 'N'));
    });
  });
  expect(got.restAnglesDeg.length).toBe(want.restAnglesDeg.length);
  expectClose(got.restAnglesDeg, want.restAnglesDeg, tol(1e-4, '°'));
}

const mapVectors = (job: Job, onPoint: (p: V3) => V3, onDirection: (v: V3) => V3): Job =>
  ({
    ...job,
    points: job.points.map((p) => ({ ...p, at: onPoint(p.at as V3) })),
    struts: job.struts.map((s) => ({
      ...s,
      ends: Object.fromEntries(
        Object.entries(s.ends).map(([end, value]) => [
          end,
          {
            ...value,
            ...(value.stem ? { stem: onDirection(value.stem as V3) } : {}),
            ...(value.mount
              ? {
                  mount: {
                    normal: onDirection(value.mount.normal as V3),
                    reference: onDirection(value.mount.reference as V3),
                  },
                }
              : {}),
          },
        ]),
      ) as JobStrut['ends'],
    })),
  }) as Job;

/** Puts the ends on mounts, so that azimuth and tilt take part too. */
const onMounts = (job: Job, normal: V3, reference: V3, azimuthDeg: number, tiltDeg: number): Job => ({
  ...job,
  struts: job.struts.map((s) => {
    const end = { fitting: 'ball-stud', rangeDeg: 18, mount: { normal, reference }, azimuthDeg, tiltDeg };
    return { ...s, ends: { base: end, lid: { ...s.ends.lid } } };
  }),
});

/** Which way a job's opening axis runs against A → B. */
const senseOf = (job: Job): 1 | -1 => makeFrame(resolveJob(job)).axis.sign;

const angle = fc.double({ min: -180, max: 180, noNaN: true });
const tilt = fc.double({ min: -80, max: 80, noNaN: true });
const skewMount = fc
  .tuple(direction, direction)
  .filter(([n, r]) => Math.abs(dir(n)[0] * dir(r)[0] + dir(n)[1] * dir(r)[1] + dir(n)[2] * dir(r)[2]) < 0.95);

describe('one scene, seen otherwise', () => {
  it('rigid motion: turned and shifted with gravity turned alike, every scalar stays and hinge forces turn along', () => {
    let done = 0;
    fc.assert(
      fc.property(
        anyLid({ struts: { min: 1, max: 2 } }),
        direction,
        angle,
        point(3000),
        skewMount,
        angle,
        tilt,
        (plain, axis, turnDeg, shift, [normal, reference], azimuth, tilted) => {
          const job = onMounts(plain, normal, reference, azimuth, tilted);
          const q = dir(axis);
          const turn = (v: V3): V3 => spin(v, q, (turnDeg * Math.PI) / 180);
          const resolved = resolveJob(job);
          const gravity = turn(makePlan(makeFrame(resolved), 'case0').gravity);
          // slope says where "down" is: any gravity with a downward part is some pitch and roll of the base
          fc.pre(gravity[2] < -0.2);
          const pitchDeg = (Math.asin(gravity[0] / 9.80665) * 180) / Math.PI;
          const rollDeg = (Math.atan2(-gravity[1], -gravity[2]) * 180) / Math.PI;
          const moved = {
            ...mapVectors(job, (p) => turn(p).map((v, i) => v + shift[i]!) as unknown as V3, turn),
            loadCases: [{ ...job.loadCases[0]!, pitchDeg, rollDeg }],
          } as Job;
          // "up" and "down" are words about the level base: the sense of opening must be named anew for the turned one
          let named: Job = moved;
          try {
            if (senseOf(moved) !== senseOf(job))
              named = { ...moved, hinge: { ...moved.hinge, opens: moved.hinge.opens === 'up' ? 'down' : 'up' } };
          } catch {
            fc.pre(false); // turned so that the hinge stands plumb: no up or down to name
          }
          const want = checkJob(job).cases[0]!;
          const got = checkJob(named).cases[0]!;
          expectSame(got, want);
          for (const row of ['hingeAN', 'hingeBN'] as const)
            expectClose(
              got.travel[row],
              want.travel[row].map((v) => (v === null ? null : turn(v))),
              tol(1e-5, 'N'),
              row,
            );
          expectClose(got.travel.hingeAxialN, want.travel.hingeAxialN, tol(1e-5, 'N'));
          done++;
        },
      ),
      { numRuns: runs(500, 50) },
    );
    expect(done).toBeGreaterThanOrEqual(50);
  });

  it('mirror: the scene in a plumb mirror gives the same scalars and mirrored hinge forces', () => {
    fc.assert(
      fc.property(
        anyLid({ struts: { min: 1, max: 2 } }),
        skewMount,
        angle,
        tilt,
        (plain, [normal, reference], azimuth, tilted) => {
          const flip = ([x, y, z]: V3): V3 => [x, -y, z];
          const job = onMounts(plain, normal, reference, azimuth, tilted);
          const flipped = mapVectors(job, flip, flip);
          const mirrored = {
            ...flipped,
            loadCases: [{ ...job.loadCases[0]!, rollDeg: -(job.loadCases[0]!.rollDeg as number) }],
            // turning about a mirrored normal runs the other way
            struts: flipped.struts.map((s) => ({
              ...s,
              ends: { ...s.ends, base: { ...s.ends.base, azimuthDeg: -azimuth } },
            })),
          } as Job;
          const want = checkJob(job).cases[0]!;
          const got = checkJob(mirrored).cases[0]!;
          expectSame(got, want);
          for (const row of ['hingeAN', 'hingeBN'] as const)
            expectClose(
              got.travel[row],
              want.travel[row].map((v) => v && flip(v)),
              tol(1e-5, 'N'),
              row,
            );
          expectClose(got.travel.hingeAxialN, want.travel.hingeAxialN, tol(1e-5, 'N'));
        },
      ),
      { numRuns: runs(500) },
    );
  });

  it('hinge points swapped: only the names of the reactions change', () => {
    fc.assert(
      fc.property(anyLid({ struts: { min: 1, max: 2 } }), (job) => {
        const want = checkJob(job).cases[0]!;
        const got = checkJob({ ...job, hinge: { ...job.hinge, a: job.hinge.b, b: job.hinge.a } }).cases[0]!;
        expectSame(got, want);
        expectClose(got.travel.hingeAN, want.travel.hingeBN, tol(1e-5, 'N'));
        expectClose(got.travel.hingeBN, want.travel.hingeAN, tol(1e-5, 'N'));
        expectClose(
          got.travel.hingeAxialN,
          want.travel.hingeAxialN.map((v) => v && -v),
          tol(1e-5, 'N'),
        );
      }),
      { numRuns: runs(300) },
    );
  });

  it('a pair is two struts: quantity 2 equals the strut and its mirrored twin drawn out', () => {
    fc.assert(
      fc.property(anyLid({ struts: { min: 1, max: 1 } }), (single) => {
        const job = { ...single, struts: single.struts.map((s) => ({ ...s, quantity: 2 as const })) };
        const at = (id: string): V3 => job.points.find((p) => p.id === id)!.at as V3;
        const [a, b] = [at('A'), at('B')];
        const n = dir([b[0] - a[0], b[1] - a[1], b[2] - a[2]]);
        const mirror = (p: V3): V3 => {
          const k =
            2 *
            ((p[0] - (a[0] + b[0]) / 2) * n[0] + (p[1] - (a[1] + b[1]) / 2) * n[1] + (p[2] - (a[2] + b[2]) / 2) * n[2]);
          return [p[0] - k * n[0], p[1] - k * n[1], p[2] - k * n[2]];
        };
        const drawn = {
          ...job,
          points: [
            ...job.points,
            { id: 't-base', on: 'base', at: mirror(at('s0-base')) },
            { id: 't-lid', on: 'lid', at: mirror(at('s0-lid')) },
          ],
          struts: [
            { ...job.struts[0]!, quantity: 1 },
            { ...job.struts[0]!, quantity: 1, id: 'twin', base: 't-base', lid: 't-lid' },
          ],
        } as Job;
        const want = checkJob(drawn).cases[0]!.travel;
        const got = checkJob(job).cases[0]!.travel;
        for (const row of ['handOpeningN', 'handClosingN', 'hingeAN', 'hingeBN', 'hingeAxialN'] as const)
          expectClose(got[row], want[row], tol(1e-5, 'N'), row);
        expectClose(want.struts[1]!.leverArmMm, want.struts[0]!.leverArmMm, tol(1e-7, 'mm'));
      }),
      { numRuns: runs(300) },
    );
  });
});

// Closed forms against dense scans: angles of a length, dead centres, the strut's stop, the runs it can be there.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Job } from '../../../core/job';
import { checkJob } from '../../../core/result';
import {
  type LengthLaw,
  anglesOfLength,
  deadCentres,
  lengthLaw,
  strutStop,
  travelAngles,
  turning,
  validRuns,
} from '../../../core/travel';
import { anyLid, direction, point } from '../../support/arbitrary';
import { constantForce, lid, planOf, type V3 } from '../../support/build';
import { expectClose, within } from '../../support/close';
import { dir, minus, scanRoots, size, spin } from '../../support/naive';
import { runs } from '../../support/tier';

const TAU = 2 * Math.PI;
const scene = fc.tuple(direction, point(800), point(800)).filter(([axis, base, arm]) => {
  const o = dir(axis);
  const off = (v: V3): number =>
    size(minus(v, o.map((c) => c * (v[0] * o[0] + v[1] * o[1] + v[2] * o[2])) as unknown as V3));
  return off(base) > 5 && off(arm) > 5;
});
/** The law of a strut and the same length by turning the pivot itself. */
function both([axis, base, arm]: readonly [V3, V3, V3]): { law: LengthLaw; length: (rad: number) => number } {
  const o = dir(axis);
  return { law: lengthLaw(base, turning(arm, o)), length: (rad) => size(minus(spin(arm, o, rad), base)) };
}

describe('closed forms of the strut length', () => {
  it('ℓ² = k + p·cos θ + q·sin θ is the distance of the turned pivot', () => {
    fc.assert(
      fc.property(scene, fc.double({ min: 0, max: TAU, noNaN: true }), (s, rad) => {
        const { law, length } = both(s);
        expectClose(
          law.k + law.p * Math.cos(rad) + law.q * Math.sin(rad),
          length(rad) ** 2,
          within(1e-12 * law.k + 1e-9, 'mm²'),
        );
      }),
    );
  });
  it('angles of a length: all of a dense scan, and no others', () => {
    fc.assert(
      fc.property(scene, fc.double({ min: 0.02, max: 0.98, noNaN: true }), (s, share) => {
        const { law, length } = both(s);
        const amplitude = Math.hypot(law.p, law.q);
        const wanted = Math.sqrt(law.k - amplitude + 2 * share * amplitude);
        const found = anglesOfLength(law, wanted);
        const scanned = scanRoots((x) => length(x) - wanted, 0, TAU, 3000);
        expectClose(found, scanned, within(1e-6, 'rad'));
      }),
    );
  });
  it('angles of a length it never has: none; a law that never changes has none', () => {
    const { law } = both([
      [1, 2, 3],
      [100, 20, -40],
      [300, -50, 70],
    ]);
    expect(anglesOfLength(law, Math.sqrt(law.k + Math.hypot(law.p, law.q)) + 1)).toEqual([]);
    expect(anglesOfLength(law, Math.sqrt(law.k - Math.hypot(law.p, law.q)) - 1)).toEqual([]);
    expect(anglesOfLength({ k: 90_000, p: 0, q: 0 }, 300)).toEqual([]);
    expect(deadCentres({ k: 90_000, p: 0, q: 0 })).toEqual([]);
  });
  it('dead centres: where the length is longest and shortest of a dense scan', () => {
    fc.assert(
      fc.property(scene, (s) => {
        const { law, length } = both(s);
        fc.pre(Math.hypot(law.p, law.q) > 1);
        const [longest, shortest] = deadCentres(law);
        let [min, max] = [Infinity, 0];
        for (let k = 0; k < 3600; k++) {
          min = Math.min(min, length((k * TAU) / 3600));
          max = Math.max(max, length((k * TAU) / 3600));
        }
        expect(length(longest!)).toBeGreaterThanOrEqual(max - 1e-9);
        expect(length(shortest!)).toBeLessThanOrEqual(min + 1e-9);
        expect(longest!).toBeGreaterThanOrEqual(0);
        expect(shortest!).toBeLessThan(TAU);
      }),
    );
  });
});

describe('the strut’s own stop', () => {
  it('is the first angle of a dense scan at which it leaves its stroke outward', () => {
    fc.assert(
      fc.property(
        scene,
        fc.double({ min: 0, max: 1.3, noNaN: true }),
        fc.double({ min: 0, max: 1.3, noNaN: true }),
        (s, up, down) => {
          const { law, length } = both(s);
          const amplitude = Math.hypot(law.p, law.q);
          const shortest = Math.sqrt(Math.max(0, law.k - amplitude));
          const longest = Math.sqrt(law.k + amplitude);
          const closed = length(0);
          const extended = closed + up * (longest - closed) + 0.5;
          const stroke = extended - (closed - down * (closed - shortest) - 0.5);
          fc.pre(extended > stroke);
          const stop = strutStop(law, extended, stroke);
          // dense: first sample outside, then the crossing
          const outside = (x: number): number => Math.min(extended - length(x), length(x) - (extended - stroke));
          const roots = scanRoots(outside, 0, TAU, 4000).filter((x) => outside(x + 1e-4) < 0);
          if (roots.length === 0) {
            if (stop !== null) expect(Math.abs(outside(stop))).toBeLessThan(0.05); // touches, the scan steps over it
          } else expectClose(stop, roots[0]!, within(1e-6, 'rad'));
        },
      ),
      { numRuns: runs(2000) },
    );
  });
  it('stops nothing when it can’t be fitted closed', () => {
    const { law, length } = both([
      [0.2, 1, 0.1],
      [-100, 40, -300],
      [-300, 0, -20],
    ]);
    expect(strutStop(law, length(0) - 1, 200)).toBeNull();
    expect(strutStop(law, length(0) + 301, 300)).toBeNull();
    expect(strutStop(law, length(0) + 100, 300)).not.toBeNull();
  });
  it('the earliest strut wins, openDeg caps it, and the result says who stopped', () => {
    const parts = {
      a: [0, 400, 0] as V3,
      b: [3, -400, 2] as V3,
      grip: [900, 0, 10] as V3,
      masses: [{ kg: 20, at: [450, 10, 20] as V3 }],
      stop: 'strut' as const,
      openDeg: 100,
    };
    const strut = (id: string, extendedMm: number) => ({
      id,
      base: [120, 390, -300] as V3,
      lid: [350, 395, -10] as V3,
      spec: constantForce(300, extendedMm, 330),
    });
    const long = lid({ ...parts, struts: [strut('long', 560)] });
    const two = lid({ ...parts, struts: [strut('long', 560), strut('short', 500)] });
    const open = (job: Job): number => planOf(job).openDeg;
    expect(open(two)).toBeLessThan(open(long));
    expect(planOf(two).stoppedBy).toBe('short');
    expectClose(checkJob(two).cases[0]!.travel.struts[1]!.lengthMm.at(-1), 500, within(1e-6, 'mm'));
    const capped = { ...two, travel: { ...two.travel, openDeg: 12.5 } };
    expect(open(capped)).toBe(12.5);
    expect(planOf(capped).stoppedBy).toBeNull();
    expect(open({ ...two, travel: { openDeg: 100, stop: 'lid' } })).toBe(100);
  });
});

describe('runs where every strut can be', () => {
  it('are the runs of a dense scan', () => {
    fc.assert(
      fc.property(
        anyLid({ struts: { min: 1, max: 2 } }),
        fc.double({ min: 0.25, max: 0.9, noNaN: true }),
        (job, cut) => {
          // shorten the strokes so that they no longer cover the travel
          const short = {
            ...job,
            struts: job.struts.map((s) => {
              const stroke = Math.max(21, (s.spec.strokeMm as number) * cut);
              return { ...s, spec: { ...s.spec, strokeMm: stroke, extendedMm: (s.spec.extendedMm as number) - 3 } };
            }),
          } as Job;
          const plan = planOf(short);
          const result = checkJob(short).cases[0]!;
          const runs = validRuns(plan).map(([from, to]) => [(from * 180) / Math.PI, (to * 180) / Math.PI] as const);
          result.travel.angleDeg.forEach((deg, i) => {
            const near = runs.some(([from, to]) => Math.abs(deg! - from) < 1e-6 || Math.abs(deg! - to) < 1e-6);
            if (near) return;
            expect(result.travel.handOpeningN[i] !== null, `at ${deg}°`).toBe(
              runs.some(([from, to]) => deg! > from && deg! < to),
            );
          });
        },
      ),
      { numRuns: runs(600) },
    );
  });
});

describe('angles of a travel table', () => {
  it.each([
    [3, 1, [0, 1, 2, 3]],
    [2.5, 1, [0, 1, 2, 2.5]],
    [0.4, 1, [0, 0.4]],
    [1, 0.25, [0, 0.25, 0.5, 0.75, 1]],
    [0.3, 0.1, [0, 0.1, 0.2, 0.3]],
  ])('open %d°, step %d°', (open, step, wanted) => expectClose(travelAngles(open, step), wanted, within(1e-12, '°')));
  it('begin closed, end exactly open, rise, and lie no further apart than the step', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 350, noNaN: true }), (open) => {
        const angles = travelAngles(open);
        expect(angles[0]).toBe(0);
        expect(angles.at(-1)).toBe(open);
        for (let i = 1; i < angles.length; i++) {
          expect(angles[i]! - angles[i - 1]!).toBeGreaterThan(0);
          expect(angles[i]! - angles[i - 1]!).toBeLessThanOrEqual(1 + 1e-8);
        }
      }),
    );
  });
});

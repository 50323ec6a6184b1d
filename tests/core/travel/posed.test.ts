// Poses and ways as the views show them, against Rodrigues' formula and the travel table.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { resolveJob } from '../../../core/job';
import { type Vec3, norm, perpendicularTo, rotatePoint, sub, toRad } from '../../../core/space';
import { circleAbout, outOfRangeAlong, posedPoint, posedStrut, sweptPath } from '../../../core/travel';
import { workings } from '../../../core/workings';
import { expectClose, within } from '../../support/close';
import { example } from '../examples/example';

const job = resolveJob(example('workboat-hatch'));
const { frame, tables } = workings(job);
const { axis, openDeg } = frame;
const strut = job.struts[0]!;
const at = (id: string): Vec3 => job.points.find((p) => p.id === id)!.at;

describe('what is seen with the lid open', () => {
  it('lid points turn about the hinge, base points stand', () => {
    for (const deg of [0, 13, openDeg])
      for (const p of job.points) {
        const want = p.on === 'lid' ? rotatePoint(p.at, axis.origin, axis.opening, toRad(deg)) : p.at;
        expectClose([...posedPoint(p, axis, deg)], [...want], within(1e-9, 'mm'));
        expect(posedPoint(p, null, deg)).toBe(p.at);
      }
  });

  it('a swept way goes from closed to open at one distance from the hinge', () => {
    const way = sweptPath(axis, at('grip'), openDeg, 12);
    expect(way).toHaveLength(13);
    expectClose([...way[0]!], [...at('grip')], within(1e-9, 'mm'));
    expectClose(
      [...way[12]!],
      [...rotatePoint(at('grip'), axis.origin, axis.opening, toRad(openDeg))],
      within(1e-9, 'mm'),
    );
    const arm = (p: Vec3): number => norm(perpendicularTo(sub(p, axis.origin), axis.along));
    for (const p of way) expectClose(arm(p), arm(at('grip')), within(1e-9, 'mm'));
    expect(sweptPath(null, at('grip'), openDeg, 12)).toEqual([]);
  });

  it('a circle about the hinge has its radius, and lies in the plane of its point', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 3000, noNaN: true }), (radius) => {
        for (const p of circleAbout(axis, at('grip'), radius, 48)) {
          expectClose(norm(perpendicularTo(sub(p, axis.origin), axis.along)), radius, within(1e-8, 'mm'));
          const run = (q: Vec3): number =>
            norm(sub(sub(q, axis.origin), perpendicularTo(sub(q, axis.origin), axis.along)));
          expectClose(run(p), run(at('grip')), within(1e-8, 'mm'));
        }
      }),
    );
  });

  it('length and joint angles are those of the travel table', () => {
    const row = tables[0]!.struts[0]!;
    tables[0]!.angleDeg.forEach((deg, i) => {
      if (i % 7 !== 0) return;
      const seen = posedStrut(job, strut, axis, deg)!;
      expectClose(seen.lengthMm, row.lengthMm[i]!, within(1e-9, 'mm'));
      const [base, lid] = seen.joints;
      expectClose(base!.deviationDeg, Math.abs(90 - row.baseJointDeg[i]!), within(1e-6, '°'));
      expectClose(lid!.deviationDeg, Math.abs(90 - row.lidJointDeg[i]!), within(1e-6, '°'));
    });
  });

  it('says where a joint is out of its range, and when a strut is outside its stroke', () => {
    const tight = { ...strut, ends: { ...strut.ends, base: { ...strut.ends.base, rangeDeg: 0.5 } } };
    const row = tables[0]!.struts[0]!;
    expect(posedStrut(job, tight, axis, 0)!.joints[0]!.out).toBe(Math.abs(90 - row.baseJointDeg[0]!) > 0.5);
    const out = outOfRangeAlong(tight.ends, row, row.baseJointDeg.length - 1);
    out.forEach((o, i) =>
      expect(o).toBe(
        Math.abs(90 - row.baseJointDeg[i]!) > 0.5 || Math.abs(90 - row.lidJointDeg[i]!) > strut.ends.lid.rangeDeg,
      ),
    );
    const short = { ...strut, spec: { ...strut.spec, extendedMm: 200, strokeMm: 50 } };
    expect(posedStrut(job, short, axis, 0)!.inside).toBe(false);
    expect(posedStrut(job, strut, axis, 0)!.inside).toBe(true);
  });

  it('a pair has its mirror image; a strut of a point that is gone is not there', () => {
    const pair = posedStrut(job, { ...strut, quantity: 2 }, axis, 20)!;
    expectClose(norm(sub(pair.twin!.lid, pair.twin!.base)), pair.lengthMm, within(1e-9, 'mm'));
    expect(posedStrut(job, { ...strut, quantity: 1 }, axis, 20)!.twin).toBeNull();
    expect(posedStrut(job, { ...strut, lid: 'nowhere' }, axis, 20)).toBeNull();
  });
});

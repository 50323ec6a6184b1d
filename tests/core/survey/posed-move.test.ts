// A point put where it is seen, with and without relations.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Job, type JobRelation, readJob, resolveJob } from '../../../core/job';
import { type Vec3, norm, perpendicularTo, rotatePoint, sub, toRad, unit } from '../../../core/space';
import { PosedMove, tryRelation } from '../../../core/survey';
import { openingAxis } from '../../../core/travel';

/** The line of sight of the side view. */
const Y: Vec3 = [0, 1, 0];
const plain: Job = readJob(
  readFileSync(new URL('../../../tests/fixtures/jobs/workboat-hatch.lidjob', import.meta.url), 'utf8'),
);
const at = (job: Job, id: string): Vec3 => resolveJob(job).points.find((p) => p.id === id)!.at;
const met = (...relations: Omit<JobRelation, 'id'>[]): Job =>
  relations.reduce((job, relation) => {
    const kept = tryRelation(job, { relation });
    if (!kept.ok) throw new Error(kept.text);
    return kept.job;
  }, plain);
/** Where a point is seen with the lid at deg, by Rodrigues' formula on the job's own axis. */
function posed(job: Job, id: string, deg: number): Vec3 {
  const axis = openingAxis(resolveJob(job));
  return rotatePoint(at(job, id), axis.origin, axis.opening, toRad(deg));
}
describe('a point put where it is seen', () => {
  it('without relations is as before, to a thousandth', () => {
    const move = new PosedMove(plain, 'grip');
    const moved = move.to([-880.12345, 60, 440], 0, Y);
    expect(at(moved, 'grip')).toEqual([-880.123, 60, 440]);
    expect(move.step).toBeNull();
  });

  it('with the lid open: it goes to where it is seen, and what is demanded of the shut lid holds', () => {
    const start = met(
      { kind: 'level-with', points: ['s1-lid', 'grip'] },
      { kind: 'closed-length', strut: 's1', valueMm: 400 },
    );
    const from = posed(start, 's1-lid', 50);
    const move = new PosedMove(start, 's1-lid');
    for (let k = 1; k <= 10; k++) {
      const to: Vec3 = [from[0] + 4 * k, from[1], from[2] - 3 * k];
      const next = move.to(to, 50, Y);
      const seen = posed(next, 's1-lid', 50);
      expect(Math.hypot(seen[0] - to[0], seen[2] - to[2])).toBeLessThan(0.01);
      expect(Math.abs(at(next, 's1-lid')[2] - at(next, 'grip')[2])).toBeLessThan(1e-6);
      expect(Math.abs(norm(sub(at(next, 's1-lid'), at(next, 's1-base'))) - 400)).toBeLessThan(1e-6);
    }
  });

  it('what it can’t follow is told as the lag seen in that view', () => {
    const start = met(
      { kind: 'fixed', points: ['hingeB'] },
      { kind: 'fixed', points: ['grip'] },
      { kind: 'on-line', points: ['s1-lid', 'hingeB', 'grip'] },
    );
    const [a, g, p] = ['hingeB', 'grip', 's1-lid'].map((id) => at(start, id)) as [Vec3, Vec3, Vec3];
    const target: Vec3 = [p[0] - 30, p[1], p[2] + 40];
    const move = new PosedMove(start, 's1-lid');
    const next = move.to(target, 0, Y);
    expect(norm(perpendicularTo(sub(at(next, 's1-lid'), a), unit(sub(g, a))))).toBeLessThan(1e-6);
    const d = unit([g[0] - a[0], 0, g[2] - a[2]]);
    const off = Math.abs((target[0] - a[0]) * d[2] - (target[2] - a[2]) * d[0]);
    expect(move.step!.lagMm).toBeCloseTo(off, 2);
  });
});

describe('moving a point where it is seen', () => {
  for (const deg of [0, 17.5, 45, 70])
    it(`puts a lid point so that at ${deg}° it stands there`, () => {
      const wanted = [-211.25, -480.5, 617.75] as const;
      const moved = new PosedMove(plain, 's1-lid').to(wanted, deg);
      const resolved = resolveJob(moved);
      // seen with the frame of the moved job
      const now = posed(moved, 's1-lid', deg);
      for (const k of [0, 1, 2] as const) expect(now[k]).toBeCloseTo(wanted[k], 2); // the job keeps 1e-3 mm
      // nothing else moves
      for (const p of resolved.points)
        if (p.id !== 's1-lid') expect(p.at).toEqual(resolveJob(plain).points.find((q) => q.id === p.id)!.at);
    });

  it('a base point is put where it is seen, whatever the angle', () => {
    const moved = resolveJob(new PosedMove(plain, 's1-base').to([-100.5, -550, 41.25], 40));
    expect(moved.points.find((p) => p.id === 's1-base')!.at).toEqual([-100.5, -550, 41.25]);
  });

  it('an unknown point changes nothing', () => {
    expect(new PosedMove(plain, 'nobody').to([1, 2, 3], 10)).toBe(plain);
  });
});

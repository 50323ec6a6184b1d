// Dragging with relations and the marks of them, apart from any canvas.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Job, type JobRelation, RELATION_KINDS, readJob, resolveJob } from '../../../core/job';
import { METRIC } from '../../../core/quantity';
import { type Vec3, norm, perpendicularTo, rotatePoint, sub, toRad, unit } from '../../../core/space';
import { tryRelation, addRelation } from '../../../core/survey';
import { openingAxis } from '../../../core/travel';
import { workings } from '../../../core/workings';
import { movePosed, relationLag } from '../../../renderer/views/sheet/move-point';
import { buildScene } from '../../../renderer/views/sheet/scene';
import { offOf, relationMarks, withNotes } from '../../../renderer/views/sheet/scene-relations';

const plain: Job = readJob(
  readFileSync(new URL('../../../assets/examples/workboat-hatch.lidjob', import.meta.url), 'utf8'),
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
const sceneOf = (job: Job, deg: number) => {
  const resolved = resolveJob(job);
  return buildScene(resolved, workings(resolved, METRIC), deg, null);
};

describe('a point put where it is seen', () => {
  it('without relations is as before, to a thousandth', () => {
    const moved = movePosed(plain, 'grip', [-880.12345, 60, 440], 0, 'side');
    expect(at(moved, 'grip')).toEqual([-880.123, 60, 440]);
    expect(relationLag(plain, 'grip')).toBeNull();
  });

  it('with the lid open: it goes to where it is seen, and what is demanded of the shut lid holds', () => {
    const start = met(
      { kind: 'level-with', points: ['s1-lid', 'grip'] },
      { kind: 'closed-length', strut: 's1', valueMm: 400 },
    );
    const from = posed(start, 's1-lid', 50);
    for (let k = 1; k <= 10; k++) {
      const to: Vec3 = [from[0] + 4 * k, from[1], from[2] - 3 * k];
      const next = movePosed(start, 's1-lid', to, 50, 'side');
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
    const next = movePosed(start, 's1-lid', target, 0, 'side');
    expect(norm(perpendicularTo(sub(at(next, 's1-lid'), a), unit(sub(g, a))))).toBeLessThan(1e-6);
    const d = unit([g[0] - a[0], 0, g[2] - a[2]]);
    const off = Math.abs((target[0] - a[0]) * d[2] - (target[2] - a[2]) * d[0]);
    expect(relationLag(start, 's1-lid')!.lagMm).toBeCloseTo(off, 2);
    expect(relationLag(plain, 's1-lid')).toBeNull();
  });
});

describe('marks', () => {
  /** One of each kind, none of them made to hold. */
  const each: Record<(typeof RELATION_KINDS)[number], Omit<JobRelation, 'id' | 'kind'>> = {
    fixed: { points: ['grip'] },
    distance: { points: ['grip', 'c1'], valueMm: 500 },
    'level-with': { points: ['s1-lid', 's1-base'], view: 'side' },
    'plumb-with': { points: ['s1-lid', 'grip'], view: 'front' },
    'in-line': { points: ['c1', 'c2', 'grip'] },
    'on-line': { points: ['grip', 'c1', 'c3'] },
    'on-plane': { points: ['grip'], axis: 'x', valueMm: -900 },
    'on-circle': { points: ['grip'], valueMm: 900 },
    mirrored: { points: ['c1', 'c4'] },
    'equal-distance': { points: ['c1', 'grip', 'c4', 'grip'] },
    angle: { points: ['c1', 'c2', 'c3'], valueDeg: 90 },
    'closed-length': { strut: 's1', valueMm: 310 },
    'open-length': { strut: 's1', valueMm: 500 },
  };
  const job = RELATION_KINDS.reduce((next, kind) => addRelation(next, { relation: { kind, ...each[kind] } }), {
    ...plain,
    relations: [],
  } as Job);

  it('every kind has words in the views where it holds', () => {
    const marks = relationMarks(resolveJob(job), sceneOf(job, 0), 'side', METRIC);
    expect(marks.flatMap((m) => m.labels.map((l) => l.text))).toEqual([
      'fixed',
      '500.0 mm',
      'level',
      'in line',
      'on this line',
      'x = −900.0 mm',
      '900.0 mm from the hinge',
      'mirrored',
      'equal 1',
      'equal 1',
      '90.0°',
      'closed 310.0 mm',
      'open 500.0 mm',
    ]);
    const front = relationMarks(resolveJob(job), sceneOf(job, 0), 'front', METRIC);
    expect(front.flatMap((m) => m.labels.map((l) => l.text))).toContain('plumb');
    expect(front.flatMap((m) => m.labels.map((l) => l.text))).not.toContain('level');
  });

  it('the circle runs round the hinge at its radius, whatever the angle', () => {
    const scene = sceneOf(job, 30);
    const line = relationMarks(resolveJob(job), scene, 'side', METRIC).find((m) => m.lines[0]?.length === 49)!
      .lines[0]!;
    const axis = openingAxis(resolveJob(job));
    for (const p of line) expect(norm(perpendicularTo(sub(p, axis.origin), axis.along))).toBeCloseTo(900, 6);
  });

  it('one that speaks of the shut lid says so with the lid open, one that turns with it does not; what is off says so', () => {
    const resolved = resolveJob(job);
    const marks = relationMarks(resolved, sceneOf(job, 40), 'side', METRIC);
    const texts = withNotes(marks, resolved, 40, offOf(job)).flatMap((m) => m.labels.map((l) => l.text));
    expect(texts).toContain('level, lid shut: off');
    expect(texts).toContain('closed 310.0 mm, lid shut: off');
    expect(texts).toContain('500.0 mm: off');
    expect(texts).toContain('90.0°');
    expect(texts).toContain('fixed, lid shut');
    expect(withNotes(marks, resolved, 0, [])).toEqual(marks);
  });

  it('one not in use, or about a point that is gone, draws nothing', () => {
    const off = addRelation(plain, { relation: { kind: 'fixed', points: ['grip'], use: false } });
    expect(relationMarks(resolveJob(off), sceneOf(off, 0), 'side', METRIC)).toEqual([]);
    const gone = addRelation(plain, { relation: { kind: 'fixed', points: ['nobody'] } });
    expect(relationMarks(resolveJob(gone), sceneOf(plain, 0), 'side', METRIC)).toEqual([]);
    expect(offOf(gone)).toEqual([]);
  });
});

// The marks of relations, apart from any canvas.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Job, type JobRelation, RELATION_KINDS, readJob, resolveJob } from '../../../core/job';
import { METRIC } from '../../../core/quantity';
import { norm, perpendicularTo, sub } from '../../../core/space';
import { addRelation } from '../../../core/survey';
import { openingAxis } from '../../../core/travel';
import { workings } from '../../../core/workings';
import { buildScene } from '../../../renderer/views/sheet/scene';
import { offOf, relationMarks, withNotes } from '../../../renderer/views/sheet/condition-marks';

const plain: Job = readJob(
  readFileSync(new URL('../../../tests/fixtures/jobs/workboat-hatch.lidjob', import.meta.url), 'utf8'),
);
const sceneOf = (job: Job, deg: number) => {
  const resolved = resolveJob(job);
  return buildScene(resolved, workings(resolved, METRIC), deg, null);
};

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
    expect(texts).toContain('level, lid closed: off');
    expect(texts).toContain('closed 310.0 mm, lid closed: off');
    expect(texts).toContain('500.0 mm: off');
    expect(texts).toContain('90.0°');
    expect(texts).toContain('fixed, lid closed');
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

import { describe, expect, it } from 'vitest';
import { type Job, type JobObservation } from '../../../core/job';
import {
  adjustSurvey,
  datumOf,
  layOut,
  matchPoints,
  readingIssue,
  addObservations,
  addRelation,
} from '../../../core/survey';
import { resolveJob } from '../../../core/job';
import { simulate } from './simulate';
import { example } from '../examples/example';

type Reading = Omit<JobObservation, 'id'>;
const free = (...observations: Reading[]): Job =>
  addObservations({ ...example('workboat-hatch'), observations: [], relations: [] }, { observations });
const hold = (job: Job): Job => datumOf(job).relations.reduce((j, relation) => addRelation(j, { relation }), job);

/** Tapes between all of these points at their present distances. */
function tapes(ids: readonly string[]): Reading[] {
  const job = resolveJob(example('workboat-hatch'));
  const layout = layOut(example('workboat-hatch'), job);
  const at = (id: string) => job.points[layout.indexOf(id)]!.at;
  return ids.flatMap((a, i) =>
    ids.slice(i + 1).map((b): Reading => {
      const [p, q] = [at(a), at(b)];
      return { kind: 'tape', points: [a, b], valueMm: Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]) };
    }),
  );
}
const FIVE = ['hingeA', 'hingeB', 'grip', 's1-base', 's1-lid'];

describe('the datum of a survey', () => {
  it('of tapes alone is missing in six ways, and is held by a hinge point, the other across, and one turn', () => {
    const job = free(...tapes(FIVE));
    const datum = datumOf(job);
    expect(datum.free).toBe(6);
    expect(datum.relations.map((r) => [r.kind, r.points![0], r.axis])).toMatchObject([
      ['fixed', 'hingeA', undefined],
      ['on-plane', 'hingeB', 'x'],
      ['on-plane', 'hingeB', 'z'],
      ['on-plane', expect.not.stringMatching(/hinge/), expect.any(String)],
    ]);
    expect(datum.words).toContain('port hinge pin where it is');
    expect(adjustSurvey(job).reason).toBe('rank-deficient');
    const held = hold(job);
    expect(datumOf(held).free).toBe(0);
    expect(adjustSurvey(held).reason).toBe('converged');
  });

  it('takes no check away: what it holds leaves every residual as the readings alone have it', () => {
    const off = tapes(FIVE).map((r, i): Reading => ({
      ...r,
      valueMm: (r.valueMm as number) + [3, -2, 1, 4, -5][i % 5]!,
    }));
    const job = free(...off);
    const held = adjustSurvey(hold(job));
    // 10 tapes, 15 coordinates, 6 of them the datum's
    expect(held.freedom).toBe(10 - (15 - 6));
    const alone = adjustSurvey(job);
    held.readings.forEach((r, i) => expect(r.residual).toBeCloseTo(alone.readings[i]!.residual, 5));
  });

  it('is missing only in part where heights, levels or a datum plane hold some of it', () => {
    const heights = FIVE.slice(1).map((id): Reading => ({
      kind: 'height-difference',
      points: ['hingeA', id],
      valueMm: 0,
    }));
    expect(datumOf(free(...tapes(FIVE), ...heights)).free).toBe(4);
    const level: Reading = { kind: 'coordinate', axis: 'z', points: ['grip'], valueMm: 428 };
    expect(datumOf(free(...tapes(FIVE), ...heights, level)).free).toBe(3);
    // an angle gauge read at another opening turns the lid about the hinge: the hinge line counts
    const gauge: Reading = { kind: 'angle-level', points: ['hingeA', 'grip'], valueDeg: 1 };
    expect(datumOf(free(...tapes(FIVE), gauge)).free).toBe(5);
  });

  it('counts no turn that moves nothing: two points, or points in one line', () => {
    const two = free({ kind: 'tape', points: ['grip', 's1-base'], valueMm: 900 });
    expect(datumOf(two).free).toBe(5);
    const held = hold(two);
    expect(datumOf(held)).toMatchObject({ free: 0, relations: [] });
    expect(adjustSurvey(held).reason).toBe('converged');
  });

  it('of a whole survey needs nothing', () => {
    const { job } = simulate('workboat-hatch', 4);
    expect(datumOf(job)).toEqual({ free: 0, relations: [], words: '' });
  });

  it('of no readings is nothing', () => expect(datumOf(free()).free).toBe(0));
});

describe('a reading as typed', () => {
  const job = free();
  it('is refused where half of it is missing, and passed where it is whole', () => {
    expect(readingIssue(job, { kind: 'tape', points: ['hingeA', 'grip'] }, 'it')!.what).toContain('no length');
    expect(readingIssue(job, { kind: 'tape', points: ['hingeA'], valueMm: 3 }, 'it')!.what).toContain('1 points');
    expect(readingIssue(job, { kind: 'coordinate', points: ['grip'], valueMm: 3 }, 'it')!.what).toContain(
      'which coordinate',
    );
    expect(readingIssue(job, { kind: 'tape', points: ['hingeA', 'grip'], valueMm: 2e6 }, 'it')).not.toBeNull();
    expect(readingIssue(job, { kind: 'tape', points: ['hingeA', 'grip'], valueMm: 812 }, 'it')).toBeNull();
  });

  it('finds points by the beginnings of their words', () => {
    const found = (typed: string): string[] => matchPoints(typed, job.points).map((p) => p.id);
    expect(found('po hi')).toEqual(['hingeA']);
    expect(found('strut lid')).toEqual(['s1-lid']);
    expect(found('strut')).toEqual(['s1-base', 's1-lid']);
    expect(found('handle')).toEqual(['grip']);
    expect(found('c1')).toEqual(['c1']);
    expect(found('xyz')).toEqual([]);
    expect(found('')).toHaveLength(job.points.length);
  });
});

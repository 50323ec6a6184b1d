import { describe, expect, it } from 'vitest';
import { type Job, type JobObservation, jobIssues, resolveJob } from '../../../core/job';
import {
  USUAL_SIGMA,
  adjustSurvey,
  applySurvey,
  ellipseFactor,
  ellipseIn,
  readingName,
  suggestReading,
  layOut,
  addObservation,
  addObservations,
  removeObservation,
  setObservation,
} from '../../../core/survey';
import { distance, rad, toDeg } from '../../../core/space';
import { expectClose, within } from '../../support/close';
import { refusal } from '../../support/refusal';
import { example } from '../examples/example';
import { simulate } from './simulate';

const base = (): Job => {
  const job = example('workboat-hatch');
  return { ...job, observations: [], relations: [{ id: 'o', kind: 'fixed', points: ['hingeA'] }] };
};
const read = (job: Job, ...readings: Omit<JobObservation, 'id'>[]): Job =>
  addObservations(job, { observations: readings });
const at = (job: Job, id: string) => resolveJob(job).points.find((p) => p.id === id)!.at;

describe('an adjustment', () => {
  it('without readings says what to do, and a job without readings is left alone', () => {
    const result = adjustSurvey(base());
    expect(result.reason).toBe('nothing-to-adjust');
    expect(result.problem).toContain('Type what you measured');
  });

  it('of one point by its three coordinates: the values read, σ as stated, no control', () => {
    const job = read(
      base(),
      { kind: 'coordinate', axis: 'x', points: ['grip'], valueMm: -905, sigmaMm: 2 },
      { kind: 'coordinate', axis: 'y', points: ['grip'], valueMm: 22, datumMm: 40 },
      { kind: 'coordinate', axis: 'z', points: ['grip'], valueMm: 431 },
    );
    const { points, readings, freedom, uncontrolled, s0 } = adjustSurvey(job);
    const grip = points.find((p) => p.id === 'grip')!;
    expectClose(grip.at, [-905, 62, 431], within(1e-9, 'mm'));
    expectClose(grip.sigmaMm, [2, USUAL_SIGMA.coordinate.sigmaMm!, 1], within(1e-9, 'mm'));
    expectClose([grip.ellipses!.top.majorMm, grip.ellipses!.top.minorMm], [2, 1], within(1e-9, 'mm'));
    expect(freedom).toBe(0);
    expect(s0).toBeNull();
    expect(readings.every((r) => r.verdict === 'uncontrolled' && r.w === null)).toBe(true);
    expect(uncontrolled).toContain('the x of lift handle');
  });

  it('of a point by two equal tapes and a height: σ by hand', () => {
    // in the plane of the two anchors, lines of sight at ±45°: σ² of each in-plane axis is that of one tape
    let job = base();
    job = { ...job, relations: [...job.relations!, { id: 'o2', kind: 'fixed', points: ['hingeB'] }] };
    const [a, b] = [at(job, 'hingeA'), at(job, 'hingeB')];
    const half = distance(a, b) / 2;
    const p = [(a[0] + b[0]) / 2 - half, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2] as const;
    job = {
      ...job,
      points: job.points.map((q) => (q.id === 'grip' ? { ...q, at: [p[0] + 20, p[1] - 15, p[2] + 8] } : q)),
    };
    job = read(
      job,
      { kind: 'tape', points: ['hingeA', 'grip'], valueMm: distance(a, p), sigmaMm: 1.4 },
      { kind: 'tape', points: ['hingeB', 'grip'], valueMm: distance(b, p), sigmaMm: 1.4 },
      { kind: 'height-difference', points: ['hingeA', 'grip'], valueMm: p[2] - a[2], sigmaMm: 0.7 },
    );
    const grip = adjustSurvey(job).points.find((q) => q.id === 'grip')!;
    expectClose(grip.at, p, within(1e-6, 'mm'));
    // the hinge is not quite along y, hence a little slack
    expectClose([grip.sigmaMm[0]!, grip.sigmaMm[1]!, grip.sigmaMm[2]!], [1.4, 1.4, 0.7], within(0.03, 'mm'));
  });

  it('says which point is not held and which way it can move; applySurvey leaves that one alone', () => {
    const job = read(
      base(),
      { kind: 'coordinate', axis: 'x', points: ['grip'], valueMm: -900 },
      { kind: 'coordinate', axis: 'z', points: ['grip'], valueMm: 431 },
      { kind: 'coordinate', axis: 'x', points: ['s1-lid'], valueMm: -280 },
      { kind: 'coordinate', axis: 'y', points: ['s1-lid'], valueMm: -510 },
      { kind: 'coordinate', axis: 'z', points: ['s1-lid'], valueMm: 370 },
    );
    const result = adjustSurvey(job);
    expect(result.reason).toBe('rank-deficient');
    expect(result.problem).toContain('can still move');
    const grip = result.points.find((p) => p.id === 'grip')!;
    expect(grip.covariance).toBeNull();
    expect(grip.sigmaMm[1]).toBeNull();
    expectClose(grip.sigmaMm[0], 1, within(1e-9, 'mm'));
    expect(grip.canMove).toHaveLength(1);
    expectClose(grip.canMove[0]!.map(Math.abs), [0, 1, 0], within(1e-9, '1'));
    const applied = applySurvey(job, { result });
    expect(at(applied, 'grip')).toEqual(at(job, 'grip'));
    expectClose(at(applied, 's1-lid'), [-280, -510, 370], within(1e-9, 'mm'));
  });

  it('holds relations exactly and leaves points alone that nobody measured', () => {
    const { job } = simulate('workboat-hatch', 31);
    const level: Job = {
      ...job,
      relations: [...job.relations!, { id: 'lv', kind: 'level-with', points: ['c1', 'c2'] }],
    };
    const result = adjustSurvey(level);
    const z = (id: string): number => result.points.find((p) => p.id === id)!.at[2];
    expectClose(z('c1'), z('c2'), within(1e-7, 'mm'));
    expect(result.points.some((p) => p.id === 'cg-panel')).toBe(false);
    expect(result.freedom).toBe(adjustSurvey(job).freedom + 1);
  });

  it('relations that can’t hold together are named, and nothing is adjusted', () => {
    const { job } = simulate('workboat-hatch', 31);
    const bad: Job = {
      ...job,
      relations: [
        ...job.relations!,
        { id: 'd1', kind: 'distance', points: ['c1', 'c2'], valueMm: 800 },
        { id: 'd2', kind: 'distance', points: ['c1', 'c2'], valueMm: 820 },
      ],
    };
    const result = adjustSurvey(bad);
    expect(result.reason).toBe('contradictory');
    expect(result.problem).toContain('800 mm');
    expect(result.problem).toContain('820 mm');
    expect(result.points).toEqual([]);
  });

  it('names the worst reading in words, with its size, and what to do', () => {
    const { job } = simulate('workboat-hatch', 4, { noise: 0.05, blunder: { reading: 2, by: 11 } });
    const { worst } = adjustSurvey(job);
    expect(worst!.text).toBe(
      'The tape from port hinge pin to strut, lid end reads 11 mm long against the rest. Measure it again.',
    );
    const { job: short } = simulate('workboat-hatch', 4, { noise: 0.05, blunder: { reading: 2, by: -6 } });
    expect(adjustSurvey(short).worst!.text).toContain('reads 6.0 mm short against the rest');
  });

  it('where two readings control only each other it doubts both', () => {
    const job = read(
      base(),
      { kind: 'coordinate', axis: 'x', points: ['grip'], valueMm: -900 },
      { kind: 'coordinate', axis: 'x', points: ['grip'], valueMm: -915, name: 'second try' },
      { kind: 'coordinate', axis: 'y', points: ['grip'], valueMm: 60 },
      { kind: 'coordinate', axis: 'z', points: ['grip'], valueMm: 431 },
    );
    const { worst } = adjustSurvey(job);
    expect(worst!.alike).toHaveLength(1);
    expect(worst!.text).toContain('can’t tell which'.replace('’', "'"));
  });
});

describe('every kind of reading', () => {
  const job = example('workboat-hatch');
  const layout = layOut(job, resolveJob(job));
  const p = (id: string) => at(job, id);
  const kinds: [Omit<JobObservation, 'id'>, string][] = [
    [
      { kind: 'tape', points: ['hingeA', 'grip'], valueMm: distance(p('hingeA'), p('grip')) },
      'the tape from port hinge pin to lift handle',
    ],
    [
      { kind: 'known-length', points: ['s1-base', 's1-lid'], valueMm: distance(p('s1-base'), p('s1-lid')) },
      'the known length from strut, base end to strut, lid end',
    ],
    [
      { kind: 'coordinate', axis: 'z', points: ['grip'], datumMm: 100, valueMm: p('grip')[2] - 100 },
      'the z of lift handle',
    ],
    [
      { kind: 'height-difference', points: ['hingeA', 'grip'], valueMm: p('grip')[2] - p('hingeA')[2] },
      'the height of lift handle over port hinge pin',
    ],
    [
      { kind: 'angle-level', points: ['hingeA', 'grip'], valueDeg: toDeg(rad(Math.atan2(30, Math.hypot(904, 392)))) },
      'the angle to level of port hinge pin to lift handle',
    ],
    [
      { kind: 'angle-between', points: ['c1', 'c2', 'c1', 'c4'], valueDeg: 90 },
      'the angle between lid corner, forward port to lid corner, aft port and lid corner, forward port to lid corner, forward starboard',
    ],
    [
      { kind: 'on-plane', points: ['c4', 'c1', 'c2', 'c3'] },
      'lid corner, forward starboard on the plane of lid corner, forward port, lid corner, aft port and lid corner, aft starboard',
    ],
    [
      { kind: 'mirror-twin', points: ['c1', 'c4'], axis: 'y' },
      'lid corner, forward starboard as the mirror twin of lid corner, forward port',
    ],
  ];
  it.each(kinds)('$kind holds where it is true, is named in words, and passes the check', (observation, words) => {
    const one = addObservation({ ...job, relations: [] }, { observation });
    expect(jobIssues(resolveJob(one)).filter((i) => i.where[0] === 'observations')).toEqual([]);
    const result = adjustSurvey(one);
    expect(Math.max(...result.points.map((q) => q.movedMm))).toBeLessThan(0.05);
    expect(readingName({ id: '', ...observation } as never, layout)).toBe(words);
  });

  it('on-line pulls a point straight across to the line', () => {
    const one = read(
      { ...job, relations: ['c1', 'c2'].map((id) => ({ id, kind: 'fixed' as const, points: [id] })) },
      { kind: 'on-line', points: ['grip', 'c1', 'c2'] },
    );
    const grip = adjustSurvey(one).points.find((q) => q.id === 'grip')!;
    expectClose(grip.at, [p('grip')[0], 492, 405], within(1e-6, 'mm'));
    expectClose(grip.canMove[0]!.map(Math.abs), [1, 0, 0], within(1e-6, '1'));
  });

  it('a mirror twin about the hinge’s middle lies as far from it on the other side', () => {
    const one = read(
      { ...job, relations: [{ id: 'f', kind: 'fixed', points: ['s1-base'] }] },
      { kind: 'mirror-twin', points: ['s1-base', 'grip'] },
    );
    const twin = adjustSurvey(one).points.find((q) => q.id === 'grip')!.at;
    for (const [own, other] of [
      ['hingeA', 'hingeB'],
      ['hingeB', 'hingeA'],
    ] as const)
      expectClose(distance(p('s1-base'), p(own)), distance(twin, p(other)), within(1e-6, 'mm'));
  });
});

describe('what to measure next', () => {
  it('is the reading that shrinks the weakest point most, and it does shrink it that much', () => {
    const { job } = simulate('machine-guard', 3);
    const before = adjustSurvey(job);
    const s = suggestReading(job, before)!;
    expect(s.text).toContain('would help most');
    expect(s.afterMm!).toBeLessThan(s.beforeMm! * 0.8);
    const weakest = before.points.find((p) => p.id === s.point)!;
    // read it exactly where the point now is: then σ changes by geometry alone
    const value = s.reading.kind === 'coordinate' ? weakest.at['xyz'.indexOf(s.reading.axis!)]! : NaN;
    const after = adjustSurvey(
      addObservation(applySurvey(job, { result: before }), { observation: { ...s.reading, valueMm: value } }),
    );
    const now = after.points.find((p) => p.id === s.point)!;
    expectClose(Math.max(...now.sigmaMm.map((v) => v!)), s.afterMm!, within(0.1, 'mm'));
    // and no other single coordinate does better
    for (const axis of ['x', 'y', 'z'] as const) {
      const k = 'xyz'.indexOf(axis);
      const other = adjustSurvey(
        addObservation(job, { observation: { kind: 'coordinate', axis, points: [s.point], valueMm: weakest.at[k]! } }),
      );
      expect(Math.max(...other.points.find((p) => p.id === s.point)!.sigmaMm.map((v) => v!))).toBeGreaterThan(
        s.afterMm! - 0.1,
      );
    }
  });

  it('for a point that is not held, a reading along the direction it can move', () => {
    const job = read(
      base(),
      { kind: 'coordinate', axis: 'x', points: ['grip'], valueMm: -900 },
      { kind: 'coordinate', axis: 'z', points: ['grip'], valueMm: 431 },
    );
    const s = suggestReading(job, adjustSurvey(job))!;
    expect(s.point).toBe('grip');
    expect(s.beforeMm).toBeNull();
    const after = adjustSurvey(
      addObservation(job, { observation: { ...s.reading, valueMm: s.reading.kind === 'tape' ? 980 : 60 } }),
    );
    expect(after.points.find((p) => p.id === 'grip')!.covariance).not.toBeNull();
  });
});

describe('error ellipses', () => {
  it('of a slanting covariance, by hand, and the factor for 95 %', () => {
    // axes 3 and 1 turned by 30° in the side view
    const [c, s] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)];
    const xx = 9 * c * c + s * s;
    const zz = 9 * s * s + c * c;
    const xz = 8 * c * s;
    const e = ellipseIn(
      [
        [xx, 0, xz],
        [0, 4, 0],
        [xz, 0, zz],
      ],
      'side',
    );
    expectClose([e.majorMm, e.minorMm, e.angleRad], [3, 1, Math.PI / 6], within(1e-12, 'mm, rad'));
    // −2·ln 0.05 is χ² of two degrees
    expectClose(ellipseFactor(0.95), Math.sqrt(-2 * Math.log(0.05)), within(1e-9, '1'));
  });
});

describe('malformed readings are refused in words', () => {
  const wrong: [Omit<JobObservation, 'id'>, RegExp][] = [
    [{ kind: 'tape', points: ['hingeA', 'nowhere'], valueMm: 5 }, /"nowhere"/],
    [{ kind: 'tape', points: ['hingeA'], valueMm: 5 }, /1 points and needs 2/],
    [{ kind: 'tape', points: ['hingeA', 'hingeA'], valueMm: 5 }, /twice/],
    [{ kind: 'tape', points: ['hingeA', 'grip'] }, /no length/],
    [{ kind: 'tape', points: ['hingeA', 'grip'], valueMm: -3 }, /-3 mm long/],
    [{ kind: 'coordinate', points: ['grip'], valueMm: 1 }, /which coordinate/],
    [{ kind: 'angle-level', points: ['hingeA', 'grip'] }, /no angle/],
  ];
  it.each(wrong)('%j', (observation, words) => {
    const error = refusal(() => adjustSurvey(addObservation(base(), { observation })));
    expect(error.what).toMatch(words);
    expect(error.where[0]).toBe('observations');
  });

  it('edits: ids are fresh, rows change and go', () => {
    let job = read(
      base(),
      { kind: 'tape', points: ['hingeA', 'grip'], valueMm: 5 },
      { kind: 'tape', points: ['hingeB', 'grip'], valueMm: 6 },
    );
    expect(job.observations!.map((o) => o.id)).toEqual(['reading', 'reading2']);
    job = setObservation(job, { id: 'reading', patch: { valueMm: 7, sigmaMm: 2 } });
    expect(job.observations![0]).toMatchObject({ valueMm: 7, sigmaMm: 2 });
    expect(refusal(() => setObservation(job, { id: 'reading', patch: { id: 'x' } as never })).what).toContain('id');
    job = removeObservation(job, { id: 'reading' });
    expect(job.observations!.map((o) => o.id)).toEqual(['reading2']);
  });
});

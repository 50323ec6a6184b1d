import { describe, expect, it } from 'vitest';
import { type Job, type JobObservation, resolveJob } from '../../../core/job';
import { adjustSurvey, addObservations } from '../../../core/survey';
import { openingAxis, poseAt } from '../../../core/travel';
import { toRad } from '../../../core/space';
import {
  ellipseMarks,
  freeMarks,
  magnification,
  moveMarks,
  readingMarks,
} from '../../../renderer/views/sheet/reading-marks';
import { example } from '../../core/examples/example';

const hatch = (...observations: Omit<JobObservation, 'id'>[]): Job =>
  addObservations({ ...example('workboat-hatch'), observations: [], relations: [] }, { observations });
const marksOf = (job: Job, chosen: string | null = null) => {
  const resolved = resolveJob(job);
  return readingMarks(resolved, openingAxis(resolved), job.observations?.length ? adjustSurvey(job) : null, chosen);
};
const at = (id: string) => resolveJob(hatch()).points.find((p) => p.id === id)!.at;

/** The grip by rule from three datum planes: σ 2, 1 and 0.5 mm. */
const RULED: Omit<JobObservation, 'id'>[] = [
  { kind: 'coordinate', axis: 'x', points: ['grip'], valueMm: -905, sigmaMm: 2 },
  { kind: 'coordinate', axis: 'y', points: ['grip'], valueMm: 60, sigmaMm: 1 },
  { kind: 'coordinate', axis: 'z', points: ['grip'], valueMm: 428, sigmaMm: 0.5 },
];

describe('readings in the views', () => {
  it('run between their points, and say how each stands', () => {
    const [tape, off, height] = marksOf(
      hatch(
        { kind: 'tape', points: ['hingeA', 'grip'], valueMm: 985 },
        { kind: 'tape', points: ['hingeA', 'c1'], valueMm: 50, use: false },
        { kind: 'height-difference', points: ['hingeA', 'grip'], valueMm: 30 },
      ),
      'reading',
    );
    expect(tape).toMatchObject({ lines: [[at('hingeA'), at('grip')]], chosen: true });
    expect(off).toMatchObject({ look: 'off', chosen: false });
    // level from the one, then up to the other
    const [, , corner] = [0, 0, height!.lines[0]![0]];
    expect(corner).toEqual([at('grip')[0], at('grip')[1], at('hingeA')[2]]);
  });

  it('stand where the lid stood when they were read', () => {
    const job = hatch({ kind: 'tape', points: ['s1-base', 'grip'], valueMm: 1200, atDeg: 40 });
    const resolved = resolveJob(job);
    const [mark] = marksOf(job);
    expect(mark!.lines[0]![0]).toEqual(at('s1-base'));
    expect(mark!.lines[0]![1]).toEqual(poseAt(openingAxis(resolved), at('grip'), toRad(40)));
  });

  it('of a coordinate point towards the datum, no farther than it', () => {
    const [near, far] = marksOf(
      hatch(
        { kind: 'coordinate', axis: 'y', points: ['grip'], valueMm: 30, datumMm: 30 },
        { kind: 'coordinate', axis: 'x', points: ['grip'], valueMm: -900 },
      ),
    );
    expect(near!.lines[0]![1]).toEqual([at('grip')[0], 30, at('grip')[2]]);
    expect(far!.lines[0]![1][0]).toBe(at('grip')[0] + 70);
  });

  it('of a point that is gone are left out', () => {
    const job = hatch({ kind: 'tape', points: ['hingeA', 'nowhere'], valueMm: 985 });
    expect(readingMarks(resolveJob(job), null, null, null)).toEqual([]);
  });
});

describe('error ellipses in the views', () => {
  const result = adjustSurvey(hatch(...RULED));

  it('are those that hold the point in 19 of 20 cases', () => {
    // √χ²(0.95; 2) = 2.4477
    const [side] = ellipseMarks(result.points, 'side');
    expect(side!.majorMm).toBeCloseTo(2 * 2.4477, 3);
    expect(side!.minorMm).toBeCloseTo(0.5 * 2.4477, 3);
    expect(side!.angleRad).toBeCloseTo(0, 9);
    const [front] = ellipseMarks(result.points, 'front');
    expect(front!.majorMm).toBeCloseTo(2.4477, 3);
  });

  it('are magnified in round steps, alike in all views, until they are well seen; never made smaller', () => {
    for (const pxPerMm of [0.01, 0.1, 0.3, 1, 5, 50]) {
      const k = magnification(result.points, pxPerMm);
      expect([1, 2, 5, 10, 20, 50, 100, 200, 500, 1000]).toContain(k);
      const px = ellipseMarks(result.points, 'side')[0]!.majorMm * pxPerMm * k;
      expect(px).toBeGreaterThanOrEqual(9);
      if (k > 1) expect(px).toBeLessThan(9 * 2.6);
    }
    expect(magnification([], 1)).toBe(1);
  });

  it('give way to arrows where a point is held in some directions only; moves show for those that are held', () => {
    const part = adjustSurvey(hatch(...RULED.slice(0, 2)));
    expect(ellipseMarks(part.points, 'side')).toEqual([]);
    const [free] = freeMarks(part.points);
    expect(free!.along).toHaveLength(1);
    expect(Math.abs(free!.along[0]![2])).toBeCloseTo(1, 9);
    expect(moveMarks(part.points, resolveJob(hatch()))).toEqual([]);
    expect(moveMarks(result.points, resolveJob(hatch()))).toMatchObject([[at('grip'), [-905, 60, 428]]]);
  });
});

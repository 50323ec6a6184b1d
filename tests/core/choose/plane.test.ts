import { describe, expect, it } from 'vitest';
import {
  condense,
  defaultLeastOpenDeg,
  forcePlane,
  geometryOf,
  judge,
  nearestFirst,
  openBody,
  planesOf,
  rank,
  reachOf,
} from '../../../core/choose';
import { type Spec, resolveJob } from '../../../core/job';
import { genericMetricList } from '../../../core/strut';
import { exampleFiles, jobAt } from '../../support/files';

const list = genericMetricList();

describe.each(exampleFiles())('plane of length and force of %s', (file) => {
  const job = resolveJob(jobAt(file));
  const g = geometryOf(job);
  const { spec } = g.strut;
  const leastOpenDeg = defaultLeastOpenDeg(job);
  const judged = (extendedMm: number, forceN: number): string | null => {
    // a tolerance that is assumed goes with the force
    const tried = { ...spec, extendedMm, forceN, toleranceN: openBody(spec).toleranceAt(forceN) } as Spec;
    return judge(g, reachOf(g, extendedMm, spec.strokeMm), tried, { leastOpenDeg }).refused?.id ?? null;
  };
  it('just inside its edges a strut is taken, just outside it is refused by what the edge names', () => {
    const { edge, length } = forcePlane(g, spec, leastOpenDeg);
    for (const { extendedMm, least, most } of edge) {
      // the ends of the lengths are edges themselves
      const mm = Math.min(Math.max(extendedMm, length.fromMm + 1e-6), length.toMm - 1e-6);
      const [low, high] = [least?.forceN ?? 1, most?.forceN ?? 5000];
      expect(judged(mm, (low + high) / 2), `${mm} mm`).toBeNull();
      // a force less than its own tolerance is no strut's
      if (least && low > 50) expect(judged(mm, low - 0.5)).toBe(least.id);
      if (most && most.id !== 'rod-buckling') expect(judged(mm, high + 0.5)).toBe(most.id);
    }
    if (edge.length === 0) return;
    const middle = edge[Math.floor(edge.length / 2)]!;
    const forceN = ((middle.least?.forceN ?? 1) + (middle.most?.forceN ?? 5000)) / 2;
    expect(judged(length.fromMm - 0.5, forceN)).toBe(length.from.id);
    // longer than the lid's own most, a strut that shall stop it does not
    const over = job.travel.stop === 'strut' ? ['closed-reserve', 'open-reserve'] : [length.to.id];
    expect(over).toContain(judged(length.toMm + 0.5, forceN));
  });
  it('the strokes of the best come, and the strut’s own; of what is refused the nearest first, two an entry at most', () => {
    const ranking = rank(job, list)!;
    const planes = planesOf(job, list, condense(ranking));
    const strokes = planes.map((p) => p.strokeMm);
    expect(strokes).toEqual([...new Set(strokes)].sort((a, b) => a - b));
    expect(strokes).toContain(spec.strokeMm);
    const best = ranking.ranked[0];
    if (best) expect(strokes).toContain(list[best.entry]!.strokeMm);
    const near = nearestFirst(ranking.refused, 30);
    expect(near.length).toBe(30);
    for (const { entry } of near) expect(near.filter((r) => r.entry === entry).length).toBeLessThanOrEqual(2);
  });
});

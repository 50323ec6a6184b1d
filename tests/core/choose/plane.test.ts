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
  // a longer stroke, with which a strut may also be so long that the lid's own most stops it
  it.each([0, 30])(
    'just inside its edges a strut is taken, just outside refused by what the edge names: stroke + %i',
    (more) => {
      const body = { ...spec, strokeMm: spec.strokeMm + more };
      const judged = (extendedMm: number, forceN: number): string | null => {
        // a tolerance that is assumed goes with the force
        const tried = { ...body, extendedMm, forceN, toleranceN: openBody(spec).toleranceAt(forceN) } as Spec;
        return judge(g, reachOf(g, extendedMm, body.strokeMm), tried, { leastOpenDeg }).refused?.id ?? null;
      };
      for (const { from, to, edge } of forcePlane(g, body, leastOpenDeg).regions) {
        const [first, last] = [edge[0]!.extendedMm, edge.at(-1)!.extendedMm];
        for (const { extendedMm, least, most } of edge) {
          // the ends of the lengths are edges themselves
          const mm = Math.min(Math.max(extendedMm, first + 1e-6), last - 1e-6);
          const [low, high] = [least?.forceN ?? 1, most?.forceN ?? 5000];
          expect(judged(mm, (low + high) / 2), `${mm} mm`).toBeNull();
          // a force less than its own tolerance is no strut's
          if (least && low > 50) expect(judged(mm, low - 0.5)).toBe(least.id);
          if (most && most.id !== 'rod-buckling') expect(judged(mm, high + 0.5)).toBe(most.id);
        }
        const middle = edge[Math.floor(edge.length / 2)]!;
        const forceN = ((middle.least?.forceN ?? 1) + (middle.most?.forceN ?? 5000)) / 2;
        expect(judged(first - 0.5, forceN)).toBe(from.id);
        expect(judged(last + 0.5, forceN)).toBe(to.id);
      }
    },
  );
  it('what the list has and does it lies in a region of its stroke', () => {
    const ranking = rank(job, list)!;
    for (const plane of planesOf(job, list, condense(ranking)))
      for (const { entry } of ranking.ranked.filter((r) => list[r.entry]!.strokeMm === plane.strokeMm)) {
        const mm = list[entry]!.extendedMm;
        const lies = plane.regions.some(
          ({ edge }) => edge[0]!.extendedMm <= mm + 1e-9 && edge.at(-1)!.extendedMm >= mm - 1e-9,
        );
        expect(lies, `${mm} mm, stroke ${plane.strokeMm}`).toBe(true);
      }
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

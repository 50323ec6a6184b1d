import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readJob, resolveJob } from '../../../core/job';
import { type Spot, handlesOf, leadOf, reachPx } from '../../../renderer/views/sheet/handles';

const raw = readJob(
  readFileSync(new URL('../../../tests/fixtures/jobs/workboat-hatch.lidjob', import.meta.url), 'utf8'),
);
const job = resolveJob(raw);

describe('handles', () => {
  it('every point can be taken hold of where places are chosen, with its part in the job', () => {
    const all = handlesOf(job, 'place');
    expect(all.map((h) => h.pointId).sort()).toEqual(job.points.map((p) => p.id).sort());
    const roles = Object.fromEntries(all.map((h) => [h.pointId, h.role]));
    expect(roles).toMatchObject({
      hingeA: 'hinge',
      's1-lid': 'strut',
      'cg-panel': 'mass',
      grip: 'grip',
      c3: 'corner',
    });
    expect(all.find((h) => h.pointId === 'grip')!.name).toBe('Lift handle');
  });

  it('a stage narrows what is taken hold of', () => {
    const roles = (stage: Parameters<typeof handlesOf>[1]): string[] => [
      ...new Set(handlesOf(job, stage).map((h) => h.role)),
    ];
    expect(roles('weigh').sort()).toEqual(['grip', 'mass']);
    expect(roles('joints')).toEqual(['strut']);
    expect(roles('papers')).toEqual([]);
  });

  /** The handle that a place belongs to as hit areas are drawn: the first whose reach in that direction covers it. */
  const taken = (spots: readonly Spot[], x: number, y: number): number =>
    spots.findIndex((own) => {
      const [dx, dy] = [x - own.x, y - own.y];
      const others = spots.filter((s) => s !== own);
      const reach = reachPx(own, others, Math.atan2(dy, dx));
      return reach > 0 && Math.hypot(dx, dy) <= reach + 1e-9;
    });

  it('reach 14 px where nothing is near: 28 px across', () => {
    const far: Spot[] = [{ x: 0, y: 0, lead: 0 }, { x: 60, y: 0, lead: 6 }]; // prettier-ignore
    for (let a = 0; a < 7; a += 0.1) expect(reachPx(far[0]!, far.slice(1), a)).toBe(14);
  });

  it('the nearest is taken, the strut first where two lie on one spot, the chosen one before it', () => {
    const at: Record<string, [number, number]> = { 's1-lid': [50, 50], grip: [50, 50], c3: [58, 50], hingeA: [200, 9] };
    const handles = handlesOf(job, 'place').filter((h) => h.pointId in at);
    const take = (x: number, y: number, chosen: string | null = null): string | null => {
      const spots = handles.map((h) => ({ x: at[h.pointId]![0], y: at[h.pointId]![1], lead: leadOf(h, chosen) }));
      return handles[taken(spots, x, y)]?.pointId ?? null;
    };
    expect(take(50, 50)).toBe('s1-lid');
    expect(take(50, 50, 'grip')).toBe('grip');
    expect(take(58, 50)).toBe('c3');
    expect(take(200, 22)).toBe('hingeA');
    expect(take(200, 24)).toBeNull();
    expect(take(120, 120)).toBeNull();
  });

  it('share the room of those near each other by who counts as nearest', () => {
    const place = fc.double({ min: 0, max: 40, noNaN: true });
    const spot = fc.record({ x: place, y: place, lead: fc.constantFrom(-3, -2, -1, -0.5, 0, 6) });
    fc.assert(
      fc.property(fc.array(spot, { minLength: 1, maxLength: 5 }), place, place, (spots, x, y) => {
        const counts = spots.map((s) => Math.hypot(s.x - x, s.y - y) - s.lead);
        const within = spots.map((s) => Math.hypot(s.x - x, s.y - y) <= 14);
        const reached = counts.filter((_, i) => within[i]);
        const got = taken(spots, x, y);
        // a ray that has left its handle's room does not come back to it: there the paper is taken
        if (got >= 0) expect(counts[got]! - Math.min(...reached)).toBeLessThan(1e-6);
        if (reached.length === 0) expect(got).toBe(-1);
        if (spots.length === 1) expect(got).toBe(within[0] ? 0 : -1);
      }),
    );
  });
});

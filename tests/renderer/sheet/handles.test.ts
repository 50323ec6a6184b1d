import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readJob, resolveJob } from '../../../core/job';
import { workings } from '../../../core/workings';
import { handleAt, handlesOf } from '../../../renderer/views/sheet/handles';
import { movePosed } from '../../../renderer/views/sheet/move-point';
import { buildScene } from '../../../renderer/views/sheet/scene';

const raw = readJob(readFileSync(new URL('../../../assets/examples/workboat-hatch.lidjob', import.meta.url), 'utf8'));
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

  it('takes the nearest within reach, the strut first where two lie on one spot, the chosen one before it', () => {
    const at: Record<string, [number, number]> = { 's1-lid': [50, 50], grip: [50, 50], c3: [58, 50], hingeA: [200, 9] };
    const handles = handlesOf(job, 'place').filter((h) => h.pointId in at);
    const take = (x: number, y: number, chosen: string | null = null): string | null =>
      handleAt(handles, (id) => at[id] ?? null, x, y, chosen)?.pointId ?? null;
    expect(take(50, 50)).toBe('s1-lid');
    expect(take(50, 50, 'grip')).toBe('grip');
    expect(take(58, 50)).toBe('c3');
    expect(take(200, 22)).toBe('hingeA');
    expect(take(200, 24)).toBeNull();
    expect(take(120, 120)).toBeNull();
  });
});

describe('moving a point where it is seen', () => {
  const outcome = workings(job);
  for (const deg of [0, 17.5, 45, 70])
    it(`puts a lid point so that at ${deg}° it stands there`, () => {
      const wanted = [-211.25, -480.5, 617.75] as const;
      const moved = movePosed(raw, 's1-lid', wanted, deg);
      const resolved = resolveJob(moved);
      // the scene is built with the frame of the moved job
      const scene = buildScene(resolved, workings(resolved), deg, null);
      const now = scene.posed.get('s1-lid')!;
      for (const k of [0, 1, 2] as const) expect(now[k]).toBeCloseTo(wanted[k], 2); // the job keeps 1e-3 mm
      // nothing else moves
      for (const p of resolved.points)
        if (p.id !== 's1-lid') expect(p.at).toEqual(job.points.find((q) => q.id === p.id)!.at);
    });

  it('a base point is put where it is seen, whatever the angle', () => {
    const moved = resolveJob(movePosed(raw, 's1-base', [-100.5, -550, 41.25], 40));
    expect(moved.points.find((p) => p.id === 's1-base')!.at).toEqual([-100.5, -550, 41.25]);
  });

  it('an unknown point changes nothing', () => {
    expect(movePosed(raw, 'nobody', [1, 2, 3], 10)).toBe(raw);
    expect(outcome.frame.openDeg).toBe(70);
  });
});

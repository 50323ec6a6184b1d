import { describe, expect, it } from 'vitest';
import { addObstacle, moveObstaclePosed, obstacleEdges } from '../../../core/clearance';
import { resolveJob } from '../../../core/job';
import { type Vec3, norm, rotatePoint, sub, toRad } from '../../../core/space';
import { openingAxis } from '../../../core/travel';
import { example } from '../examples/example';

describe('edges of what is in the way', () => {
  it('of a box: twelve edges of its sizes about its middle', () => {
    const { lines, middle } = obstacleEdges({ box: { centre: [1, 2, 3], sizeMm: [10, 20, 30] } } as never);
    expect(middle).toEqual([1, 2, 3]);
    const lengths = lines.flatMap((l) => l.slice(1).map((p, i) => norm(sub(p, l[i]!)))).map((v) => Math.round(v));
    expect(lengths.sort((a, b) => a - b)).toEqual([10, 10, 10, 10, 20, 20, 20, 20, 30, 30, 30, 30]);
  });

  it('of a cylinder: two rings of its radius and lines along it; of no length nothing', () => {
    const { lines, middle } = obstacleEdges({ cylinder: { from: [0, 0, 0], to: [0, 0, 50], radiusMm: 8 } } as never);
    expect(middle).toEqual([0, 0, 25]);
    for (const p of lines[0]!) expect(Math.hypot(p[0], p[1])).toBeCloseTo(8, 9);
    expect(lines.slice(2).map((l) => norm(sub(l[1]!, l[0]!)))).toEqual([50, 50, 50, 50]);
    expect(obstacleEdges({ cylinder: { from: [1, 1, 1], to: [1, 1, 1], radiusMm: 8 } } as never).lines).toEqual([]);
  });

  it('of a traced outline: it and its copy at the other depth', () => {
    const traced = { view: 'side', corners: [[0, 0], [10, 0], [0, 10]], depthMm: [5, 9] }; // prettier-ignore
    const { lines, middle } = obstacleEdges({ traced } as never);
    expect(lines[0]![1]).toEqual([10, 5, 0]);
    expect(lines[1]![1]).toEqual([10, 9, 0]);
    expect(middle[1]).toBeCloseTo(7, 9);
  });

  it('put where it is seen, one on the lid is turned back to its closed place', () => {
    for (const on of ['lid', 'base'] as const) {
      const box = { centre: [-400, 0, 450], sizeMm: [100, 100, 100] };
      const job = addObstacle(example('workboat-hatch'), { obstacle: { on, box } } as never);
      const id = job.obstacles!.at(-1)!.id;
      const to: Vec3 = [-300, 20, 700];
      const moved = resolveJob(moveObstaclePosed(job, id, to, 40)).obstacles.find((o) => o.id === id)!;
      const axis = openingAxis(resolveJob(job));
      const seen =
        on === 'lid' ? rotatePoint(moved.box!.centre, axis.origin, axis.opening, toRad(40)) : moved.box!.centre;
      for (const k of [0, 1, 2] as const) expect(seen[k]).toBeCloseTo(to[k], 2);
      expect(moveObstaclePosed(job, 'nobody', to, 40)).toBe(job);
    }
  });
});

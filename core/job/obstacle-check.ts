import type { Issue } from '../error';
import { distance } from '../space';
import type { Obstacle } from './types';

type Corner = readonly [number, number];

/** Smallest side of anything that can be in the way, mm. */
const LEAST_MM = 0.01;

const turnOf = (a: Corner, b: Corner, c: Corner): number =>
  (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** True when two pieces cross or touch anywhere. */
function meet([a, b]: [Corner, Corner], [c, d]: [Corner, Corner]): boolean {
  const [p, q, r, s] = [turnOf(a, b, c), turnOf(a, b, d), turnOf(c, d, a), turnOf(c, d, b)];
  if (p * q < 0 && r * s < 0) return true;
  const on = (u: Corner, v: Corner, w: Corner, turn: number): boolean =>
    turn === 0 &&
    Math.min(u[0], v[0]) <= w[0] &&
    w[0] <= Math.max(u[0], v[0]) &&
    Math.min(u[1], v[1]) <= w[1] &&
    w[1] <= Math.max(u[1], v[1]);
  return on(a, b, c, p) || on(a, b, d, q) || on(c, d, a, r) || on(c, d, b, s);
}

/** Numbers of two sides that are no neighbours and meet, or null: such a trace has no clear inside. */
export function crossingSides(corners: readonly Corner[]): readonly [number, number] | null {
  const n = corners.length;
  const side = (i: number): [Corner, Corner] => [corners[i]!, corners[(i + 1) % n]!];
  for (let i = 0; i < n; i++)
    for (let k = i + 2; k < n; k++) {
      if (i === 0 && k === n - 1) continue;
      if (meet(side(i), side(k))) return [i, k];
    }
  return null;
}

/** What keeps an obstacle from being a solid; paths lead from `where`. */
export function obstacleIssues(
  obstacle: Pick<Obstacle, 'box' | 'cylinder' | 'traced'>,
  where: readonly (string | number)[],
  name: string,
): Issue[] {
  const shapes = [obstacle.box, obstacle.cylinder, obstacle.traced].filter((s) => s !== undefined);
  if (shapes.length !== 1)
    return [
      {
        what: `${name} has ${shapes.length === 0 ? 'no shape' : 'more than one shape'}`,
        where,
        advice: 'Give exactly one of box, cylinder and traced.',
      },
    ];
  const issues: Issue[] = [];
  const { cylinder, traced } = obstacle;
  if (cylinder && distance(cylinder.from, cylinder.to) < LEAST_MM)
    issues.push({
      what: `${name} is a cylinder of no length`,
      where: [...where, 'cylinder', 'to'],
      advice: 'Give the middles of its two end faces.',
    });
  if (traced) {
    const corners = traced.corners;
    if (corners.length < 3)
      issues.push({
        what: `${name} is traced with ${corners.length} corners`,
        where: [...where, 'traced', 'corners'],
        advice: 'Trace three corners at least.',
      });
    else {
      const double = corners.findIndex((c, i) => {
        const next = corners[(i + 1) % corners.length]!;
        return Math.hypot(c[0] - next[0], c[1] - next[1]) < LEAST_MM;
      });
      const crossing = double >= 0 ? null : crossingSides(corners);
      if (double >= 0)
        issues.push({
          what: `${name} has two corners at one place`,
          where: [...where, 'traced', 'corners', double],
          advice: 'Remove one of them.',
        });
      else if (crossing)
        issues.push({
          what: `the outline of ${name} crosses itself: sides ${crossing[0] + 1} and ${crossing[1] + 1}`,
          where: [...where, 'traced', 'corners', crossing[1]],
          advice: 'Trace the corners in order round the shape.',
        });
    }
    if (Math.abs(traced.depthMm[1] - traced.depthMm[0]) < LEAST_MM)
      issues.push({
        what: `${name} has no depth`,
        where: [...where, 'traced', 'depthMm'],
        advice: 'Give two different depths, from and to.',
      });
  }
  return issues;
}

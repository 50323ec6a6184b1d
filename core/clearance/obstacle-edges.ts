import { type Job, type Obstacle, type ResolvedJob, resolveJob } from '../job';
import { type Vec3, add, cos, cross, norm, perpendicularTo, rad, scale, sin, sub, toRad, unit } from '../space';
import { type Axis, closedFrom, makeFrame } from '../travel';
import { moveObstacle } from './edits';
import { loadBodies, openingPlane, panelReach } from './lid-room';
import { VIEW_FRAMES, boxAxes } from './obstacles';

/** An obstacle as lines, and its middle to take hold of; in its own body's axes, lid closed, mm. */
export interface ObstacleEdges {
  readonly lines: readonly (readonly Vec3[])[];
  readonly middle: Vec3;
}

const CIRCLE_STEPS = 28;
const closed = (points: readonly Vec3[]): readonly Vec3[] => [...points, points[0]!];
const mean = (points: readonly Vec3[]): Vec3 =>
  scale(points.reduce<Vec3>(add, [0, 0, 0]), 1 / Math.max(1, points.length));

/** Two outlines of as many corners, and the lines between them. */
const prism = (low: readonly Vec3[], high: readonly Vec3[], every = 1): (readonly Vec3[])[] => [
  closed(low),
  closed(high),
  ...low.flatMap((p, i) => (i % every === 0 ? [[p, high[i]!]] : [])),
];

/** The edges of an obstacle for drawing; none for a cylinder of no length or an outline of no corners. */
export function obstacleEdges({ box, cylinder, traced }: Pick<Obstacle, 'box' | 'cylinder' | 'traced'>): ObstacleEdges {
  if (box) {
    const [x, y, z] = boxAxes(box.rotationDeg ?? [0, 0, 0]).map((axis, k) => scale(axis, box.sizeMm[k]! / 2)) as [Vec3, Vec3, Vec3]; // prettier-ignore
    const corner = (i: number, j: number, k: number): Vec3 =>
      add(box.centre, add(scale(x, i), add(scale(y, j), scale(z, k))));
    const face = (k: number): Vec3[] => [corner(-1, -1, k), corner(1, -1, k), corner(1, 1, k), corner(-1, 1, k)];
    return { lines: prism(face(-1), face(1)), middle: box.centre };
  }
  if (cylinder) {
    const span = sub(cylinder.to, cylinder.from);
    if (norm(span) < 1e-9) return { lines: [], middle: cylinder.from };
    const axis = unit(span);
    const e = unit(perpendicularTo(Math.abs(axis[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0], axis));
    const f = cross(axis, e);
    const ring = (at: Vec3): Vec3[] =>
      Array.from({ length: CIRCLE_STEPS }, (_, i) => {
        const a = (2 * Math.PI * i) / CIRCLE_STEPS;
        return add(at, add(scale(e, cylinder.radiusMm * cos(rad(a))), scale(f, cylinder.radiusMm * sin(rad(a)))));
      });
    return {
      lines: prism(ring(cylinder.from), ring(cylinder.to), CIRCLE_STEPS / 4),
      middle: mean([cylinder.from, cylinder.to]),
    };
  }
  const { view, corners, depthMm } = traced!;
  const { x, y, z } = VIEW_FRAMES[view];
  const at = (depth: number): Vec3[] => corners.map(([h, v]) => add(add(scale(x, h), scale(y, v)), scale(z, depth)));
  const [low, high] = [at(depthMm[0]), at(depthMm[1])];
  if (low.length === 0) return { lines: [], middle: [0, 0, 0] };
  return { lines: prism(low, high), middle: mean([...low, ...high]) };
}

/** The edges of the lid's own bodies, lid closed, mm: its panel as thick as it is, and loads that take room. */
export function lidEdges(
  job: Pick<ResolvedJob, 'points' | 'outline' | 'panel' | 'masses'>,
  axis: Pick<Axis, 'origin' | 'opening'>,
): (readonly Vec3[])[] {
  const reach = panelReach(job);
  const plane = reach && openingPlane(job, axis);
  const face = (depth: number): Vec3[] => {
    const { origin, x, y, z } = plane!.frame;
    return plane!.corners.map(([h, v]) => add(origin, add(add(scale(x, h), scale(y, v)), scale(z, depth))));
  };
  return [
    ...(plane ? prism(face(-reach.downMm), face(reach.upMm)) : []),
    ...loadBodies(job.masses).flatMap(({ body }) => obstacleEdges(body).lines),
  ];
}

/**
 * The job with an obstacle's middle where it is seen at `posed`, mm, the lid standing at angleDeg: one on the lid is turned
 * back to its closed place. An unknown obstacle changes nothing. Throws a LidwrightError for one on the lid of a job that
 * has no axis.
 */
export function moveObstaclePosed(job: Job, id: string, posed: Vec3, angleDeg: number): Job {
  const resolved = resolveJob(job);
  const obstacle = resolved.obstacles.find((o) => o.id === id);
  if (!obstacle) return job;
  const turns = obstacle.on === 'lid' && angleDeg !== 0;
  const to = turns ? closedFrom(makeFrame(resolved).axis, posed, toRad(angleDeg)) : posed;
  return moveObstacle(job, { id, by: sub(to, obstacleEdges(obstacle).middle) });
}

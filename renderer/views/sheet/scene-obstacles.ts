import { VIEW_FRAMES, boxAxes } from '../../../core/clearance';
import type { Obstacle } from '../../../core/job';
import { type Vec3, add, cross, norm, perpendicularTo, scale, sub, unit } from '../../../core/space';

/** Handles of obstacles go by this before their id: they are no points of the job. */
export const OBSTACLE_HANDLE = 'obstacle/';

/** An obstacle as lines, and its middle to take hold of; in its own body's axes, lid closed, mm. */
export interface ObstacleLines {
  readonly lines: readonly (readonly Vec3[])[];
  readonly middle: Vec3;
}

const CIRCLE_STEPS = 28;
const closed = (points: readonly Vec3[]): readonly Vec3[] => [...points, points[0]!];
const mean = (points: readonly Vec3[]): Vec3 =>
  scale(
    points.reduce<Vec3>((s, p) => add(s, p), [0, 0, 0]),
    1 / Math.max(1, points.length),
  );

/** Two outlines of as many corners, and the lines between them. */
const prism = (low: readonly Vec3[], high: readonly Vec3[], every = 1): (readonly Vec3[])[] => [
  closed(low),
  closed(high),
  ...low.flatMap((p, i) => (i % every === 0 ? [[p, high[i]!]] : [])),
];

export function obstacleLines({ box, cylinder, traced }: Obstacle): ObstacleLines {
  if (box) {
    const [x, y, z] = boxAxes(box.rotationDeg ?? [0, 0, 0]);
    const corner = (i: number, j: number, k: number): Vec3 =>
      add(
        box.centre,
        add(
          scale(x, (i * box.sizeMm[0]) / 2),
          add(scale(y, (j * box.sizeMm[1]) / 2), scale(z, (k * box.sizeMm[2]) / 2)),
        ),
      );
    const face = (k: number): Vec3[] => [corner(-1, -1, k), corner(1, -1, k), corner(1, 1, k), corner(-1, 1, k)];
    return { lines: prism(face(-1), face(1)), middle: box.centre };
  }
  if (cylinder) {
    const span = sub(cylinder.to, cylinder.from);
    if (norm(span) < 1e-9) return { lines: [], middle: cylinder.from };
    const axis = unit(span);
    const wish: Vec3 = Math.abs(axis[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0];
    const e = unit(perpendicularTo(wish, axis));
    const f = cross(axis, e);
    const ring = (at: Vec3): Vec3[] =>
      Array.from({ length: CIRCLE_STEPS }, (_, i) => {
        const a = (2 * Math.PI * i) / CIRCLE_STEPS;
        return add(at, add(scale(e, cylinder.radiusMm * Math.cos(a)), scale(f, cylinder.radiusMm * Math.sin(a))));
      });
    return {
      lines: prism(ring(cylinder.from), ring(cylinder.to), CIRCLE_STEPS / 4),
      middle: mean([cylinder.from, cylinder.to]),
    };
  }
  const { x, y, z } = VIEW_FRAMES[traced!.view];
  const at = (depth: number): Vec3[] =>
    traced!.corners.map(([h, v]) => add(add(scale(x, h), scale(y, v)), scale(z, depth)));
  const [low, high] = [at(traced!.depthMm[0]), at(traced!.depthMm[1])];
  return low.length === 0
    ? { lines: [], middle: [0, 0, 0] }
    : { lines: prism(low, high), middle: mean([...low, ...high]) };
}

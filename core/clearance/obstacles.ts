import type { Obstacle, ResolvedJob } from '../job';
import { type Vec3, add, cross, dot, mulMat, norm, rotationMatrix, scale, sub, toRad, transpose, unit } from '../space';
import { type Corner, type OutlineFrame, type Solid, boxSolid, cylinderSolid, outlineSolid } from '../solid';

const X: Vec3 = [1, 0, 0];
const Y: Vec3 = [0, 1, 0];
const Z: Vec3 = [0, 0, 1];

/** How each view carries an outline: side X–Z along Y, top X–Y along Z, front Y–Z along X. */
export const VIEW_FRAMES: Readonly<Record<'side' | 'top' | 'front', OutlineFrame>> = {
  side: { origin: [0, 0, 0], x: X, y: Z, z: Y },
  top: { origin: [0, 0, 0], x: X, y: Y, z: Z },
  front: { origin: [0, 0, 0], x: Y, y: Z, z: X },
};

/** The three unit axes of a box turned about X, then Y, then Z of the base frame, degrees. */
export function boxAxes([rx, ry, rz]: Vec3): readonly [Vec3, Vec3, Vec3] {
  const turned = mulMat(
    rotationMatrix(Z, toRad(rz)),
    mulMat(rotationMatrix(Y, toRad(ry)), rotationMatrix(X, toRad(rx))),
  );
  return transpose(turned);
}

/** An obstacle as a solid in its own body's axes, lid closed. The job must have passed assertComputable. */
export function obstacleSolid(obstacle: Pick<Obstacle, 'box' | 'cylinder' | 'traced'>): Solid {
  const { box, cylinder, traced } = obstacle;
  if (box) return boxSolid(box.centre, boxAxes(box.rotationDeg ?? [0, 0, 0]), scale(box.sizeMm, 0.5));
  if (cylinder) return cylinderSolid(cylinder.from, cylinder.to, cylinder.radiusMm);
  const { view, corners, depthMm } = traced!;
  return outlineSolid(VIEW_FRAMES[view], corners, Math.min(...depthMm), Math.max(...depthMm));
}

/** The plane of a lid's outline: middle, unit normal, and the corners in it; null where there is no plane to speak of. */
export function outlinePlane(
  job: Pick<ResolvedJob, 'points' | 'outline'>,
): { readonly frame: OutlineFrame; readonly corners: readonly Corner[] } | null {
  const at = new Map(job.points.map((p) => [p.id, p.at]));
  const corners = job.outline.map((id) => at.get(id)!);
  if (corners.length < 3) return null;
  const middle = scale(
    corners.reduce<Vec3>((s, c) => add(s, c), [0, 0, 0]),
    1 / corners.length,
  );
  // Newell's normal: the area vector, right for outlines that are not quite flat
  const area = corners.reduce<Vec3>(
    (s, c, i) => add(s, cross(sub(c, middle), sub(corners[(i + 1) % corners.length]!, middle))),
    [0, 0, 0],
  );
  if (norm(area) < 1) return null;
  const z = unit(area);
  const first = sub(corners[0]!, middle);
  const x = unit(sub(first, scale(z, dot(first, z))));
  const frame: OutlineFrame = { origin: middle, x, y: cross(z, x), z };
  return { frame, corners: corners.map((c): Corner => [dot(sub(c, middle), frame.x), dot(sub(c, middle), frame.y)]) };
}

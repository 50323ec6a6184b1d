import { type Vec3, add, cross, dot, norm, scale, sub } from './vec3';

/** A plane figure in space. */
export interface Plate {
  readonly centroid: Vec3;
  /** Unit, by the right-hand rule of the corners' order. */
  readonly normal: Vec3;
  readonly areaMm2: number;
}

/** Less than this is no area, mm². */
const NO_AREA_MM2 = 1e-6;

/**
 * Centroid, normal and area of the figure with these corners in turn, mm: a fan of triangles from the first corner, each
 * with its sign, so that a figure that is not convex comes out right. Null without area.
 */
export function plateOf(corners: readonly Vec3[]): Plate | null {
  const first = corners[0];
  if (!first) return null;
  const fan = corners.slice(2).map((c, i) => {
    const [u, v] = [sub(corners[i + 1]!, first), sub(c, first)];
    return { vector: scale(cross(u, v), 0.5), middle: scale(add(u, v), 1 / 3) };
  });
  const vector = fan.reduce<Vec3>((sum, t) => add(sum, t.vector), [0, 0, 0]);
  const areaMm2 = norm(vector);
  if (!(areaMm2 > NO_AREA_MM2)) return null;
  const normal = scale(vector, 1 / areaMm2);
  const moved = fan.reduce<Vec3>((sum, t) => add(sum, scale(t.middle, dot(t.vector, normal) / areaMm2)), [0, 0, 0]);
  return { centroid: add(first, moved), normal, areaMm2 };
}

/** Area vector of a closed polygon, flat or not (Newell's method), mm²; its length is twice the area. */
export function areaVector(points: readonly Vec3[]): Vec3 {
  let sum: Vec3 = [0, 0, 0];
  const origin = points[0] ?? [0, 0, 0];
  points.forEach((p, i) => {
    sum = add(sum, cross(sub(p, origin), sub(points[(i + 1) % points.length]!, origin)));
  });
  return sum;
}

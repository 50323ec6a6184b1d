import { type Zone, onPlane, zonePlane } from '../job';
import { type Vec2, type Vec3, add, cross, norm, perpendicularTo, scale, sub } from '../space';

/** A zone made ready: its plane, its corners in it, and the box round them. Vectors in base axes, mm, lid closed. */
export interface Site {
  readonly zone: Zone;
  readonly middle: Vec3;
  /** Unit, the way its surface looks. */
  readonly normal: Vec3;
  readonly e: Vec3;
  readonly f: Vec3;
  readonly corners: readonly Vec2[];
  readonly low: Vec2;
  readonly high: Vec2;
  readonly offMm: readonly [number, number];
}

/** A zone with its plane, its corners on it and the box round them. */
export function siteOf(zone: Zone): Site {
  const plane = zonePlane(zone);
  const corners = zone.corners.map((corner) => onPlane(plane, corner).foot);
  const side = (pick: (...values: number[]) => number, k: 0 | 1): number => pick(...corners.map((c) => c[k]));
  return {
    ...plane,
    zone,
    corners,
    low: [side(Math.min, 0), side(Math.min, 1)],
    high: [side(Math.max, 0), side(Math.max, 1)],
    offMm: zone.offMm,
  };
}

/**
 * A polygon with every edge moved outward, mm: corners where neighbouring edges meet again. A corner that would shoot out
 * further than four times as far is cut there.
 */
export function grown(corners: readonly Vec2[], byMm: number): Vec2[] {
  const n = corners.length;
  let twice = 0;
  for (let i = 0; i < n; i++) {
    const [a, b] = [corners[i]!, corners[(i + 1) % n]!];
    twice += a[0] * b[1] - a[1] * b[0];
  }
  const turn = twice < 0 ? -1 : 1;
  const outward = corners.map((a, i): Vec2 => {
    const b = corners[(i + 1) % n]!;
    const [x, y] = [b[0] - a[0], b[1] - a[1]];
    const length = Math.hypot(x, y) || 1;
    return [(turn * y) / length, (-turn * x) / length];
  });
  return corners.map((c, i): Vec2 => {
    const [u, v] = [outward[(i + n - 1) % n]!, outward[i]!];
    const sum: Vec2 = [u[0] + v[0], u[1] + v[1]];
    const square = sum[0] * sum[0] + sum[1] * sum[1];
    // moved by byMm along both normals: byMm·2·sum/|sum|²
    const k = square > 0.25 ? (2 * byMm) / square : (4 * byMm) / Math.max(Math.sqrt(square), 1e-9);
    return [c[0] + sum[0] * k, c[1] + sum[1] * k];
  });
}

/** Whether a foot lies in the polygon, its edge left to `footDistanceMm`. */
function inside(corners: readonly Vec2[], x: number, y: number): boolean {
  let is = false;
  for (let i = 0, k = corners.length - 1; i < corners.length; k = i++) {
    const [ax, ay] = corners[i]!;
    const [bx, by] = corners[k]!;
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) is = !is;
  }
  return is;
}

/** The nearest foot on the polygon's edge. */
function nearestOnEdge(corners: readonly Vec2[], x: number, y: number): Vec2 {
  let best: Vec2 = corners[0]!;
  let least = Infinity;
  for (let i = 0; i < corners.length; i++) {
    const a = corners[i]!;
    const b = corners[(i + 1) % corners.length]!;
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const t = Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy || 1)));
    const [px, py] = [a[0] + t * dx, a[1] + t * dy];
    const d = (px - x) ** 2 + (py - y) ** 2;
    if (d < least) [least, best] = [d, [px, py]];
  }
  return best;
}

/** The foot itself where it lies in the zone, else the nearest one on its edge. */
export const footIn = ({ corners }: Site, x: number, y: number): Vec2 =>
  inside(corners, x, y) ? [x, y] : nearestOnEdge(corners, x, y);

/** Whether the foot of a ball at a place lies in its zone. */
export const hasFoot = ({ corners }: Site, x: number, y: number): boolean => inside(corners, x, y);

/** How far a ball is from standing over the zone: its foot from the polygon, and its distance off from what is let, mm. */
export function missOf(site: Site, at: Vec3): { readonly footMm: number; readonly offMm: number } {
  const { foot, offMm } = onPlane(site, at);
  const [x, y] = footIn(site, foot[0], foot[1]);
  return {
    footMm: Math.hypot(foot[0] - x, foot[1] - y),
    offMm: Math.max(0, site.offMm[0] - offMm, offMm - site.offMm[1]),
  };
}

/** Rounding of a place on a zone's edge, mm. */
const EDGE_MM = 1e-7;

/** Whether a ball stands over the zone, its edge included. */
export function holds(site: Site, at: Vec3): boolean {
  const { footMm, offMm } = missOf(site, at);
  return footMm <= EDGE_MM && offMm <= EDGE_MM;
}

/** The ball over a foot of the zone, mm. */
export const ballAt = (site: Site, x: number, y: number, off: number): Vec3 =>
  add(site.middle, add(add(scale(site.e, x), scale(site.f, y)), scale(site.normal, off)));

/**
 * The direction in the zone's plane from which azimuths count: from base ball to lid ball, laid in it; where that stands
 * along the normal, the first edge.
 */
export function referenceOn(site: Site, base: Vec3, lid: Vec3): Vec3 {
  const way = sub(lid, base);
  const lying = perpendicularTo(way, site.normal);
  if (norm(lying) > 1e-4 * norm(way)) return scale(lying, 1 / norm(lying));
  const [a, b] = site.zone.corners;
  const edge = perpendicularTo(sub(b!, a!), site.normal);
  return scale(edge, 1 / norm(edge));
}

/** e, side and normal of a mount on the zone: azimuth turns from e to side. */
export function mountAxes(site: Site, base: Vec3, lid: Vec3): { e: Vec3; side: Vec3; m: Vec3 } {
  const e = referenceOn(site, base, lid);
  return { e, side: cross(site.normal, e), m: site.normal };
}

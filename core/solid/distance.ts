import { type Vec3, add, cross, dot, norm, scale, sub } from '../space';

/** A straight segment from p to q, mm. */
export interface Segment {
  readonly p: Vec3;
  readonly q: Vec3;
}

/** A distance, 0 where the two meet, with the point on either that it is between. */
export interface ClosestPair {
  readonly distanceMm: number;
  /** On the segment. */
  readonly here: Vec3;
  /** On the other thing. */
  readonly there: Vec3;
}

/** The point of a segment at t, 0 … 1 from p to q. @example pointOn({ p: [1, 2, 3], q: [5, 8, 3] }, 0.5) // [3, 5, 3] */
export const pointOn = ({ p, q }: Segment, t: number): Vec3 => add(p, scale(sub(q, p), t));

const apart = (a: Vec3, b: Vec3): number => Math.sqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2 + (a[2] - b[2]) ** 2);

const clamp = (x: number, low: number, high: number): number => Math.min(high, Math.max(low, x));

const INVERSE_GOLDEN = (Math.sqrt(5) - 1) / 2;

/**
 * Distance from a segment to a convex solid whose nearest point to any point is known: the distance along the segment is then a
 * convex function, so golden section finds its least without missing any (to about 1e-9 of the segment's length).
 */
export function toConvex(segment: Segment, nearest: (at: Vec3) => Vec3): ClosestPair {
  const f = (t: number): number => {
    const at = pointOn(segment, t);
    return norm(sub(at, nearest(at)));
  };
  let [a, b] = [0, 1];
  let c = b - INVERSE_GOLDEN * (b - a);
  let d = INVERSE_GOLDEN;
  let [fc, fd] = [f(c), f(d)];
  for (let i = 0; i < 44; i++) {
    if (fc <= fd) {
      [b, d, fd] = [d, c, fc];
      c = b - INVERSE_GOLDEN * (b - a);
      fc = f(c);
    } else {
      [a, c, fc] = [c, d, fd];
      d = a + INVERSE_GOLDEN * (b - a);
      fd = f(d);
    }
    if (fc === 0 || fd === 0) break;
  }
  let best = 0;
  let least = Infinity;
  for (const t of [c, d, 0, 1]) {
    const value = t === c ? fc : t === d ? fd : f(t);
    if (value < least) [least, best] = [value, t];
  }
  const here = pointOn(segment, best);
  return { distanceMm: least, here, there: nearest(here) };
}

/** Distance between two segments. Source: C. Ericson, "Real-Time Collision Detection", closest points of segments (from memory). */
export function segmentToSegment({ p, q }: Segment, { p: u, q: v }: Segment): ClosestPair {
  // component by component: brackets and lids ask for thousands of these
  const [x1, y1, z1, x2, y2, z2] = [q[0] - p[0], q[1] - p[1], q[2] - p[2], v[0] - u[0], v[1] - u[1], v[2] - u[2]];
  const [rx, ry, rz] = [p[0] - u[0], p[1] - u[1], p[2] - u[2]];
  const a = x1 * x1 + y1 * y1 + z1 * z1;
  const e = x2 * x2 + y2 * y2 + z2 * z2;
  const f = x2 * rx + y2 * ry + z2 * rz;
  const c = x1 * rx + y1 * ry + z1 * rz;
  let s = 0;
  let t = 0;
  if (a > 1e-18 && e > 1e-18) {
    const b = x1 * x2 + y1 * y2 + z1 * z2;
    const denominator = a * e - b * b;
    s = denominator > 1e-12 * a * e ? clamp((b * f - c * e) / denominator, 0, 1) : 0;
    t = (b * s + f) / e;
    if (t < 0) {
      t = 0;
      s = clamp(-c / a, 0, 1);
    } else if (t > 1) {
      t = 1;
      s = clamp((b - c) / a, 0, 1);
    }
  } else if (a > 1e-18) s = clamp(-c / a, 0, 1);
  else if (e > 1e-18) t = clamp(f / e, 0, 1);
  const here: Vec3 = [p[0] + x1 * s, p[1] + y1 * s, p[2] + z1 * s];
  const there: Vec3 = [u[0] + x2 * t, u[1] + y2 * t, u[2] + z2 * t];
  return { distanceMm: apart(here, there), here, there };
}

/** How far a point is from a segment, mm. */
export function segmentToPoint({ p, q }: Segment, at: Vec3): number {
  const [dx, dy, dz] = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
  let [x, y, z] = [at[0] - p[0], at[1] - p[1], at[2] - p[2]];
  const size = dx * dx + dy * dy + dz * dz;
  const t = size > 0 ? clamp((x * dx + y * dy + z * dz) / size, 0, 1) : 0;
  [x, y, z] = [x - t * dx, y - t * dy, z - t * dz];
  return Math.sqrt(x * x + y * y + z * z);
}

export type Triangle = readonly [Vec3, Vec3, Vec3];

/** Nearest point of a triangle to a point. Source: Ericson, same book (from memory). */
export function nearestOnTriangle([a, b, c]: Triangle, p: Vec3): Vec3 {
  const [ab, ac, ap] = [sub(b, a), sub(c, a), sub(p, a)];
  const [d1, d2] = [dot(ab, ap), dot(ac, ap)];
  if (d1 <= 0 && d2 <= 0) return a;
  const bp = sub(p, b);
  const [d3, d4] = [dot(ab, bp), dot(ac, bp)];
  if (d3 >= 0 && d4 <= d3) return b;
  const vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) return add(a, scale(ab, d1 / (d1 - d3)));
  const cp = sub(p, c);
  const [d5, d6] = [dot(ab, cp), dot(ac, cp)];
  if (d6 >= 0 && d5 <= d6) return c;
  const vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) return add(a, scale(ac, d2 / (d2 - d6)));
  const va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) return add(b, scale(sub(c, b), (d4 - d3) / (d4 - d3 + (d5 - d6))));
  const k = 1 / (va + vb + vc);
  return add(a, add(scale(ab, vb * k), scale(ac, vc * k)));
}

/** Where a segment goes through a triangle, or null. */
function through({ p, q }: Segment, [a, b, c]: Triangle): Vec3 | null {
  const n = cross(sub(b, a), sub(c, a));
  const hp = n[0] * (p[0] - a[0]) + n[1] * (p[1] - a[1]) + n[2] * (p[2] - a[2]);
  const hq = n[0] * (q[0] - a[0]) + n[1] * (q[1] - a[1]) + n[2] * (q[2] - a[2]);
  if (hp * hq > 0 || hp === hq) return null;
  const at = add(p, scale(sub(q, p), hp / (hp - hq)));
  const inside = (u: Vec3, v: Vec3): boolean => dot(cross(sub(v, u), sub(at, u)), n) >= 0;
  return inside(a, b) && inside(b, c) && inside(c, a) ? at : null;
}

/** Distance between a segment and a triangle: through it, or between an end and its face, or between the segment and an edge. */
export function segmentToTriangle(segment: Segment, triangle: Triangle): ClosestPair {
  const hit = through(segment, triangle);
  if (hit) return { distanceMm: 0, here: hit, there: hit };
  const [a, b, c] = triangle;
  let best: ClosestPair = { distanceMm: Infinity, here: segment.p, there: a };
  const take = (gap: ClosestPair): void => {
    if (gap.distanceMm < best.distanceMm) best = gap;
  };
  take(segmentToSegment(segment, { p: a, q: b }));
  take(segmentToSegment(segment, { p: b, q: c }));
  take(segmentToSegment(segment, { p: c, q: a }));
  for (const here of [segment.p, segment.q]) {
    const there = nearestOnTriangle(triangle, here);
    take({ distanceMm: apart(here, there), here, there });
  }
  return best;
}

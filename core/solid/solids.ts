import { type Vec3, add, atan2, cross, dot, norm, scale, sub, unit, toVec3 } from '../space';
import {
  type ClosestPair,
  type Segment,
  type Triangle,
  segmentToPoint,
  segmentToTriangle,
  pointOn,
  toConvex,
} from './distance';
import type { TriangleMesh } from './mesh';

/** A solid that a segment's distance can be taken to, in one body's axes, lid closed. mm. */
export interface Solid {
  /** A ball round it: lets what is far off be passed by. */
  readonly centre: Vec3;
  readonly reachMm: number;
  /** Exact distance, 0 where the segment is in it anywhere. */
  gapTo(segment: Segment): ClosestPair;
}

const clamp = (x: number, low: number, high: number): number => Math.min(high, Math.max(low, x));

/** A box by its centre, three unit axes square to each other, and half its sizes. */
export function boxSolid(centre: Vec3, axes: readonly [Vec3, Vec3, Vec3], halfMm: Vec3): Solid {
  const nearest = (at: Vec3): Vec3 => {
    const d = sub(at, centre);
    return axes.reduce<Vec3>((p, axis, i) => add(p, scale(axis, clamp(dot(d, axis), -halfMm[i]!, halfMm[i]!))), centre);
  };
  return { centre, reachMm: norm(halfMm), gapTo: (segment) => toConvex(segment, nearest) };
}

/** A true cylinder with flat ends. */
export function cylinderSolid(from: Vec3, to: Vec3, radiusMm: number): Solid {
  const axis = unit(sub(to, from));
  const lengthMm = norm(sub(to, from));
  const nearest = (at: Vec3): Vec3 => {
    const along = dot(sub(at, from), axis);
    const foot = add(from, scale(axis, along));
    const out = sub(at, foot);
    const off = norm(out);
    const on = add(from, scale(axis, clamp(along, 0, lengthMm)));
    return off > radiusMm ? add(on, scale(out, radiusMm / off)) : add(on, out);
  };
  return {
    centre: scale(add(from, to), 0.5),
    reachMm: Math.hypot(lengthMm / 2, radiusMm),
    gapTo: (segment) => toConvex(segment, nearest),
  };
}

export type Corner = readonly [number, number];

/** Whether a point of the plane lies inside a closed outline (its edge may count either way). */
export function insideOutline(corners: readonly Corner[], [x, y]: Corner): boolean {
  let inside = false;
  for (let i = 0, k = corners.length - 1; i < corners.length; k = i++) {
    const [a, b] = [corners[i]!, corners[k]!];
    if (a[1] > y !== b[1] > y && x < ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1]) + a[0]) inside = !inside;
  }
  return inside;
}

/** Where an outline is carried: origin + h·x + v·y, filled from low to high along z. The axes are unit and square. */
export interface OutlineFrame {
  readonly origin: Vec3;
  readonly x: Vec3;
  readonly y: Vec3;
  readonly z: Vec3;
}

/**
 * An outline (any shape that does not cross itself) filled from `low` to `high` along z. A segment is nearest to it inside, or
 * where it crosses an end face, or with an end over an end face, or at a side: sides are two triangles each.
 */
export function outlineSolid(frame: OutlineFrame, corners: readonly Corner[], low: number, high: number): Solid {
  const { origin, x, y, z } = frame;
  const place = ([h, v]: Corner, depth: number): Vec3 =>
    add(origin, add(scale(x, h), add(scale(y, v), scale(z, depth))));
  const flat = (at: Vec3): readonly [number, number, number] => {
    const d = sub(at, origin);
    return [dot(d, x), dot(d, y), dot(d, z)];
  };
  const sides = corners.map((a, i) => {
    const b = corners[(i + 1) % corners.length]!;
    const [p, q, r, t] = [place(a, low), place(b, low), place(b, high), place(a, high)];
    const middle = scale(add(p, r), 0.5);
    const halves: readonly Triangle[] = [
      [p, q, r],
      [p, r, t],
    ];
    return { halves, middle, reach: norm(sub(p, middle)) };
  });
  const [hs, vs] = [corners.map((c) => c[0]), corners.map((c) => c[1])];
  const middle: Corner = [(Math.min(...hs) + Math.max(...hs)) / 2, (Math.min(...vs) + Math.max(...vs)) / 2];
  const centre = place(middle, (low + high) / 2);
  const reachMm = Math.max(...corners.map((c) => norm(sub(place(c, low), centre))));
  return {
    centre,
    reachMm,
    gapTo(segment) {
      let best: ClosestPair = { distanceMm: Infinity, here: segment.p, there: segment.p };
      const take = (distanceMm: number, here: Vec3, there: Vec3): void => {
        if (distanceMm < best.distanceMm) best = { distanceMm, here, there };
      };
      const [p, q] = [flat(segment.p), flat(segment.q)];
      for (const [end, at] of [
        [segment.p, p],
        [segment.q, q],
      ] as const)
        if (insideOutline(corners, [at[0], at[1]])) {
          const depth = clamp(at[2], low, high);
          take(Math.abs(at[2] - depth), end, place([at[0], at[1]], depth));
        }
      for (const level of [low, high]) {
        const [a, b] = [p[2] - level, q[2] - level];
        if (a * b >= 0) continue;
        const t = a / (a - b);
        if (insideOutline(corners, [p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t])) {
          const at = pointOn(segment, t);
          take(0, at, at);
        }
      }
      for (const side of sides) {
        if (best.distanceMm === 0) break;
        if (segmentToPoint(segment, side.middle) - side.reach >= best.distanceMm) continue;
        for (const half of side.halves) {
          const gap = segmentToTriangle(segment, half);
          take(gap.distanceMm, gap.here, gap.there);
        }
      }
      return best;
    },
  };
}

/** How often a closed surface winds round a point, by the solid angles of its triangles. Source: Van Oosterom & Strackee (1983), from memory. */
function winding(triangles: readonly Triangle[], at: Vec3): number {
  let angle = 0;
  for (const t of triangles) {
    const [a, b, c] = [sub(t[0], at), sub(t[1], at), sub(t[2], at)];
    const [la, lb, lc] = [norm(a), norm(b), norm(c)];
    angle += 2 * atan2(dot(a, cross(b, c)), la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb);
  }
  return angle / (4 * Math.PI);
}

/** A closed mesh as a solid, placed by `place`. */
export function meshSolid(mesh: TriangleMesh, place: (p: Vec3) => Vec3): Solid {
  const corner = (i: number): Vec3 =>
    place([mesh.positionsMm[3 * i]!, mesh.positionsMm[3 * i + 1]!, mesh.positionsMm[3 * i + 2]!]);
  const corners = Array.from({ length: mesh.positionsMm.length / 3 }, (_, i) => corner(i));
  const triangles: Triangle[] = [];
  for (let i = 0; i < mesh.triangles.length; i += 3)
    triangles.push([corners[mesh.triangles[i]!]!, corners[mesh.triangles[i + 1]!]!, corners[mesh.triangles[i + 2]!]!]);
  const middle = triangles.map((t) => scale(add(t[0], add(t[1], t[2])), 1 / 3));
  const reach = triangles.map((t, i) => Math.max(...t.map((v) => norm(sub(v, middle[i]!)))));
  const sides = [0, 1, 2].map((k) => [Math.min(...corners.map((c) => c[k]!)), Math.max(...corners.map((c) => c[k]!))]);
  const centre = toVec3(sides.map(([a, b]) => (a! + b!) / 2));
  return {
    centre,
    reachMm: Math.max(...corners.map((c) => norm(sub(c, centre)))),
    gapTo(segment) {
      const boxed = (at: Vec3): boolean => sides.every(([a, b], k) => at[k]! >= a! && at[k]! <= b!);
      if (boxed(segment.p) && Math.abs(winding(triangles, segment.p)) > 0.5)
        return { distanceMm: 0, here: segment.p, there: segment.p };
      // the triangle whose ball is nearest first: most of the others are then out of the question at once
      const floor = middle.map((m, i) => segmentToPoint(segment, m) - reach[i]!);
      let first = 0;
      for (let i = 1; i < floor.length; i++) if (floor[i]! + reach[i]! < floor[first]! + reach[first]!) first = i;
      let best: ClosestPair = segmentToTriangle(segment, triangles[first]!);
      for (let i = 0; i < triangles.length && best.distanceMm > 0; i++) {
        if (floor[i]! >= best.distanceMm) continue;
        const gap = segmentToTriangle(segment, triangles[i]!);
        if (gap.distanceMm < best.distanceMm) best = gap;
      }
      return best;
    },
  };
}

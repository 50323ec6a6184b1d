import { type Vec3, add, cross, dot, norm, scale, sub, unit } from '../space';
import { flatTriangles } from './mesh';
import type { Corner, OutlineFrame } from './solids';

/** A convex body by how far it reaches in any direction; mm, in one body's axes, lid closed. */
export interface Convex {
  /** The point of it that lies furthest in a direction (not unit). */
  readonly support: (way: Vec3) => Vec3;
  /** A ball round it. */
  readonly centre: Vec3;
  readonly reachMm: number;
}

/** The hull of points. */
export function hullOf(points: readonly Vec3[]): Convex {
  const middle = scale(points.reduce<Vec3>(add, [0, 0, 0]), 1 / points.length);
  return {
    centre: middle,
    reachMm: Math.max(...points.map((p) => norm(sub(p, middle)))),
    support: (way) => {
      let best = points[0]!;
      let most = -Infinity;
      for (const p of points) {
        const far = p[0] * way[0] + p[1] * way[1] + p[2] * way[2];
        if (far > most) [most, best] = [far, p];
      }
      return best;
    },
  };
}

/** A cylinder with flat ends, true to its round. */
export function convexCylinder(from: Vec3, to: Vec3, radiusMm: number): Convex {
  const axis = unit(sub(to, from));
  return {
    centre: scale(add(from, to), 0.5),
    reachMm: Math.hypot(norm(sub(to, from)) / 2, radiusMm),
    support: (way) => {
      const along = dot(way, axis);
      const out = sub(way, scale(axis, along));
      const size = norm(out);
      const end = along > 0 ? to : from;
      // nearly along the axis the difference is rounding, and points nowhere
      return size > 1e-9 * Math.abs(along) ? add(end, scale(out, radiusMm / size)) : end;
    },
  };
}

/** A box by its centre, three unit axes square to each other, and half its sizes. */
export function convexBox(centre: Vec3, axes: readonly [Vec3, Vec3, Vec3], halfMm: Vec3): Convex {
  const corners = [0, 1, 2, 3, 4, 5, 6, 7].map((i) =>
    axes.reduce<Vec3>((p, axis, k) => add(p, scale(axis, ((i >> k) & 1 ? 1 : -1) * halfMm[k]!)), centre),
  );
  return hullOf(corners);
}

/** An outline filled from `low` to `high`: one piece where it is convex, else a piece for each of its triangles. */
export function convexPieces(frame: OutlineFrame, corners: readonly Corner[], low: number, high: number): Convex[] {
  const { origin, x, y, z } = frame;
  const prism = (flat: readonly Corner[]): Convex =>
    hullOf(
      [low, high].flatMap((d) => flat.map(([h, v]) => add(origin, add(add(scale(x, h), scale(y, v)), scale(z, d))))),
    );
  const turns = corners.map((b, i) => {
    const [a, c] = [corners[(i + corners.length - 1) % corners.length]!, corners[(i + 1) % corners.length]!];
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
  });
  if (turns.every((t) => t >= -1e-9) || turns.every((t) => t <= 1e-9)) return [prism(corners)];
  const area = corners.reduce((sum, a, i) => {
    const b = corners[(i + 1) % corners.length]!;
    return sum + a[0] * b[1] - a[1] * b[0];
  }, 0);
  return flatTriangles(area < 0 ? [...corners].reverse() : corners, []).map(prism);
}

/** Nearest to the origin of a simplex of up to four points, as weights; the empty subset never. */
function nearestWeights(points: readonly Vec3[]): number[] {
  let best: number[] = [];
  let least = Infinity;
  for (let set = 1; set < 1 << points.length; set++) {
    const chosen = points.map((_, i) => i).filter((i) => (set >> i) & 1);
    const weights = affineWeights(chosen.map((i) => points[i]!));
    if (!weights || weights.some((w) => w < -1e-12)) continue;
    let [px, py, pz] = [0, 0, 0];
    chosen.forEach((i, k) => {
      px += weights[k]! * points[i]![0];
      py += weights[k]! * points[i]![1];
      pz += weights[k]! * points[i]![2];
    });
    const square = px * px + py * py + pz * pz;
    if (square >= least) continue;
    least = square;
    best = points.map(() => 0);
    chosen.forEach((i, k) => (best[i] = weights[k]!));
  }
  return best;
}

/** Weights (they add up to 1) of the point nearest to the origin of the flat through the points; null where they lie in a lower one. */
function affineWeights(points: readonly Vec3[]): number[] | null {
  const [p, ...others] = points as [Vec3, ...Vec3[]];
  const edges = others.map((q) => sub(q, p));
  const rest = (found: number[]): number[] => [1 - found.reduce((a, b) => a + b, 0), ...found];
  if (edges.length === 0) return [1];
  const g = edges.map((a) => edges.map((b) => dot(a, b)));
  const t = edges.map((e) => -dot(e, p));
  if (edges.length === 1) return g[0]![0]! > 1e-18 ? rest([t[0]! / g[0]![0]!]) : null;
  if (edges.length === 2) {
    const det = g[0]![0]! * g[1]![1]! - g[0]![1]! * g[1]![0]!;
    if (det < 1e-12 * g[0]![0]! * g[1]![1]!) return null;
    return rest([(t[0]! * g[1]![1]! - t[1]! * g[0]![1]!) / det, (t[1]! * g[0]![0]! - t[0]! * g[1]![0]!) / det]);
  }
  // four points: the origin itself, by volumes
  const [a, b, c] = edges as [Vec3, Vec3, Vec3];
  const det = dot(a, cross(b, c));
  if (Math.abs(det) < 1e-10 * norm(a) * norm(b) * norm(c)) return null;
  const o = scale(p, -1);
  return rest([dot(o, cross(b, c)) / det, dot(a, cross(o, c)) / det, dot(a, cross(b, o)) / det]);
}

/** Between two bodies, 0 where they meet; with a point on either. */
export interface BodyGap {
  readonly distanceMm: number;
  readonly onA: Vec3;
  readonly onB: Vec3;
}

/** The distance is found to this, mm. */
const TO_MM = 1e-3;
const MOST_STEPS = 80;

/**
 * Distance between two convex bodies, right to 0.001 mm. Source: Gilbert, Johnson, Keerthi, "A fast procedure for computing the
 * distance between complex objects in three-dimensional space", IEEE J. Robotics and Automation 4 (1988) 193-203 (from memory).
 * @example gapBetween(hullOf([[0, 0, 0], [1, 0, 0]]), hullOf([[0, 2, 0], [1, 2, 0]])).distanceMm // 2
 */
export function gapBetween(a: Convex, b: Convex): BodyGap {
  interface Pair {
    readonly a: Vec3;
    readonly b: Vec3;
    readonly d: Vec3;
  }
  const pairAt = (way: Vec3): Pair => {
    const [pa, pb] = [a.support(way), b.support(scale(way, -1))];
    return { a: pa, b: pb, d: sub(pa, pb) };
  };
  let simplex: Pair[] = [pairAt(sub(b.centre, a.centre))];
  let weights = [1];
  const mix = (of: (p: Pair) => Vec3): Vec3 =>
    simplex.reduce<Vec3>((sum, p, i) => add(sum, scale(of(p), weights[i]!)), [0, 0, 0]);
  let v = simplex[0]!.d;
  for (let step = 0; step < MOST_STEPS; step++) {
    const size = norm(v);
    if (size < TO_MM) return { distanceMm: 0, onA: mix((p) => p.a), onB: mix((p) => p.b) };
    const next = pairAt(scale(v, -1));
    if (size - dot(v, next.d) / size <= TO_MM || simplex.some((p) => norm(sub(p.d, next.d)) < 1e-9)) break;
    const grown = [...simplex, next];
    const found = nearestWeights(grown.map((p) => p.d));
    const [kept, keptWeights] = [grown.filter((_, i) => found[i]! > 0), found.filter((w) => w > 0)];
    if (kept.length === 4) return { distanceMm: 0, onA: next.a, onB: next.b };
    const closer = kept.reduce<Vec3>((sum, p, i) => add(sum, scale(p.d, keptWeights[i]!)), [0, 0, 0]);
    if (norm(closer) >= size) break;
    [simplex, weights, v] = [kept, keptWeights, closer];
  }
  return { distanceMm: norm(v), onA: mix((p) => p.a), onB: mix((p) => p.b) };
}

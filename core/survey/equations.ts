import {
  type Rad,
  type Vec3,
  add,
  atan2,
  cross,
  dot,
  norm,
  perpendicularTo,
  rotatePoint,
  scale,
  sub,
  toRad,
  unit,
  axisVec,
} from '../space';
import type { EquationBlock } from '../solve';
import { type Layout, pointAt } from './layout';

/** Which two coordinates a view shows: across and up. */
export const VIEW_AXES = { side: [0, 2], top: [0, 1], front: [1, 2] } as const;
export type ViewName = keyof typeof VIEW_AXES;
export const AXIS_INDEX = { x: 0, y: 1, z: 2 } as const;

/** An equation without its weight: residuals (0 when it holds) of points given in their order. Lengths mm, angles rad. */
export interface Geometry {
  /** Point ids, each with three variables; the equation sees them in this order. */
  readonly points: readonly string[];
  readonly size: number;
  readonly residual: (p: readonly Vec3[], out: Float64Array) => void;
  readonly jacobian?: EquationBlock['jacobian'];
}

const length = (a: Vec3): number => norm(a) || 1e-12;
const flat = (a: Vec3, view?: ViewName): Vec3 => {
  if (!view) return a;
  const [h, v] = VIEW_AXES[view];
  return [h === 0 ? a[0] : 0, h === 1 || v === 1 ? a[1] : 0, v === 2 ? a[2] : 0];
};
const between = (a: Vec3, b: Vec3, view?: ViewName): Vec3 => flat(sub(b, a), view);

/** |b − a| = lengthMm, in space or as seen in a view. */
export function distanceIs(a: string, b: string, lengthMm: number, view?: ViewName): Geometry {
  const axes = view ? VIEW_AXES[view] : ([0, 1, 2] as const);
  return {
    points: [a, b],
    size: 1,
    residual: (p, out) => void (out[0] = norm(between(p[0]!, p[1]!, view)) - lengthMm),
    jacobian: (v, rows) => {
      let sum = 0;
      for (const k of axes) sum += (v[3 + k]! - v[k]!) ** 2;
      const d = Math.sqrt(sum) || 1e-12;
      for (const k of axes) rows[k] = -(rows[3 + k] = (v[3 + k]! - v[k]!) / d);
    },
  };
}

/** |ab| = |cd|. */
export const sameDistance = (ids: readonly string[], view?: ViewName): Geometry => ({
  points: ids,
  size: 1,
  residual: (p, out) => void (out[0] = norm(between(p[0]!, p[1]!, view)) - norm(between(p[2]!, p[3]!, view))),
});

/** Coordinate k of b less that of a is `by`, mm. */
export const coordinateStep = (a: string, b: string, k: 0 | 1 | 2, by: number): Geometry => ({
  points: [a, b],
  size: 1,
  residual: (p, out) => void (out[0] = p[1]![k] - p[0]![k] - by),
  jacobian: (_v, rows) => {
    rows[k] = -1;
    rows[3 + k] = 1;
  },
});

/** Coordinates `axes` of a point at values, mm. */
export const coordinatesAre = (a: string, axes: readonly (0 | 1 | 2)[], at: readonly number[]): Geometry => ({
  points: [a],
  size: axes.length,
  residual: (p, out) => axes.forEach((k, i) => (out[i] = p[0]![k] - at[i]!)),
  jacobian: (_v, rows) => axes.forEach((k, i) => (rows[3 * i + k] = 1)),
});

/** a right above or below b: the same x and y; in a view, the same place across it. */
export function plumb(a: string, b: string, view?: ViewName): Geometry {
  if (view) return coordinateStep(a, b, VIEW_AXES[view][0], 0);
  return {
    points: [a, b],
    size: 2,
    residual: (p, out) => {
      out[0] = p[1]![0] - p[0]![0];
      out[1] = p[1]![1] - p[0]![1];
    },
    jacobian: (_v, rows) => {
      rows[0] = rows[7] = -1;
      rows[3] = rows[10] = 1;
    },
  };
}

/** a and b equally high; in a view, equally far up it. */
export const level = (a: string, b: string, view?: ViewName): Geometry =>
  coordinateStep(a, b, view ? VIEW_AXES[view][1] : 2, 0);

/**
 * A point on the line through two others: its distances from the line in two fixed directions across where the line lies now
 * (one, in a view), so that the two never say the same twice.
 */
export function onLine(point: string, a: string, b: string, start: readonly [Vec3, Vec3], view?: ViewName): Geometry {
  const now = between(...start, view);
  const along = unit(norm(now) > 1e-9 ? now : [1, 0.1, 0.01]);
  const least = [0, 1, 2].reduce((m, k) => (Math.abs(along[k]!) < Math.abs(along[m]!) ? k : m), 0);
  const e1 = unit(perpendicularTo(axisVec(least), along));
  const e2 = cross(along, e1);
  const [h, v] = view ? VIEW_AXES[view] : [0, 0];
  return {
    points: [point, a, b],
    size: view ? 1 : 2,
    residual: (p, out) => {
      const d = between(p[1]!, p[2]!, view);
      const r = between(p[1]!, p[0]!, view);
      if (view) {
        out[0] = (d[h]! * r[v]! - d[v]! * r[h]!) / length(d);
        return;
      }
      const off = sub(r, scale(d, dot(r, d) / length(d) ** 2));
      out[0] = dot(off, e1);
      out[1] = dot(off, e2);
    },
  };
}

/** A point in the plane through three others: its distance from it, mm. */
export const onPlane = (ids: readonly string[]): Geometry => ({
  points: ids,
  size: 1,
  residual: (p, out) => {
    const n = cross(sub(p[2]!, p[1]!), sub(p[3]!, p[1]!));
    out[0] = dot(sub(p[0]!, p[1]!), n) / length(n);
  },
});

/** The rise of line a → b over level, rad, −π/2 … π/2; positive where b is higher. */
export const riseIs = (a: string, b: string, angleRad: Rad, view?: ViewName): Geometry => ({
  points: [a, b],
  size: 1,
  residual: (p, out) => {
    const d = sub(p[1]!, p[0]!);
    const [h, v] = view ? VIEW_AXES[view] : [0, 2];
    out[0] = atan2(d[v]!, view ? Math.abs(d[h]!) : Math.hypot(d[0], d[1])) - angleRad;
  },
});

/** The angle between lines p₀p₁ and p₂p₃, rad, 0 … π. */
export const angleIs = (ids: readonly string[], angleRad: Rad, view?: ViewName): Geometry => ({
  points: ids,
  size: 1,
  residual: (p, out) => {
    const u = between(p[0]!, p[1]!, view);
    const w = between(p[2]!, p[3]!, view);
    out[0] = atan2(norm(cross(u, w)), dot(u, w)) - angleRad;
  },
});

/**
 * Two sides of a corner p₀ square to each other: how far the shorter one's end lies off the square, mm (|u·v| over the
 * longer side).
 */
export const squareCorner = (ids: readonly string[]): Geometry => ({
  points: ids,
  size: 1,
  residual: (p, out) => {
    const u = sub(p[1]!, p[0]!);
    const v = sub(p[2]!, p[0]!);
    out[0] = dot(u, v) / Math.max(length(u), length(v));
  },
});

/**
 * Four corners in their order as a flat rectangle, mm: the middles of both diagonals in one place, and the diagonals equally
 * long. Halved, so that each part has the σ of one corner's coordinate.
 */
export const flatRectangle = (ids: readonly string[]): Geometry => ({
  points: ids,
  size: 4,
  residual: (p, out) => {
    for (let k = 0; k < 3; k++) out[k] = (p[0]![k]! - p[1]![k]! + p[2]![k]! - p[3]![k]!) / 2;
    out[3] = (norm(between(p[0]!, p[2]!)) - norm(between(p[1]!, p[3]!))) / 2;
  },
});

/** b is a's mirror image in the middle plane of the hinge (through the middle of AB, square to it). */
export const mirroredInHinge = (a: string, b: string, hingeA: string, hingeB: string): Geometry => ({
  points: [a, b, hingeA, hingeB],
  size: 3,
  residual: (p, out) => {
    const n = sub(p[3]!, p[2]!);
    const nn = dot(n, n) || 1e-12;
    const middle = scale(add(p[2]!, p[3]!), 0.5);
    const image = sub(p[0]!, scale(n, (2 * dot(sub(p[0]!, middle), n)) / nn));
    for (let k = 0; k < 3; k++) out[k] = p[1]![k]! - image[k]!;
  },
});

/** b is a's mirror image in the plane across axis k at `at` mm. */
export const mirroredAcross = (a: string, b: string, axis: 0 | 1 | 2, at: number): Geometry => ({
  points: [a, b],
  size: 3,
  residual: (p, out) => {
    for (let k = 0; k < 3; k++) out[k] = p[1]![k]! - (k === axis ? 2 * at - p[0]![k]! : p[0]![k]!);
  },
});

/** A point at a radius from the hinge axis, and (where given) so far from hinge A along it towards B, mm. */
export const onCircle = (point: string, hingeA: string, hingeB: string, radius: number, along?: number): Geometry => ({
  points: [point, hingeA, hingeB],
  size: along === undefined ? 1 : 2,
  residual: (p, out) => {
    const d = sub(p[2]!, p[1]!);
    const r = sub(p[0]!, p[1]!);
    const run = dot(r, d) / length(d);
    out[0] = norm(sub(r, scale(d, run / length(d)))) - radius;
    if (along !== undefined) out[1] = run - along;
  },
});

/** The same equation with the lid at angleDeg: lid points are turned about the hinge before it looks at them. */
export function withLidAt(g: Geometry, layout: Layout, angleDeg: number): Geometry {
  const { job } = layout;
  const onLid = g.points.map((id) => job.points[layout.indexOf(id)]!.on === 'lid');
  if (angleDeg === 0 || !onLid.includes(true)) return g;
  const turn = toRad(angleDeg * layout.opening);
  const n = g.points.length;
  return {
    points: [...g.points, job.hinge.a, job.hinge.b],
    size: g.size,
    residual: (p, out) => {
      const axis = unit(sub(p[n + 1]!, p[n]!));
      g.residual(
        p.slice(0, n).map((at, i) => (onLid[i] ? rotatePoint(at, p[n]!, axis, turn) : at)),
        out,
      );
    },
  };
}

/** A geometry as the solver's block. */
export function asBlock(
  g: Geometry,
  layout: Layout,
  args: { readonly name: string; readonly kind: 'soft' | 'hard'; readonly sigma: number },
): EquationBlock {
  const n = g.points.length;
  return {
    ...args,
    variables: g.points.flatMap((id) => layout.variablesOf(id)),
    size: g.size,
    residual: (v, out) =>
      g.residual(
        Array.from({ length: n }, (_, i) => pointAt(v, i)),
        out,
      ),
    ...(g.jacobian ? { jacobian: g.jacobian } : {}),
  };
}

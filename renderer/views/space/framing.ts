import { type Vec3, cos, sin, toRad, boxMiddle, add, sub, scale, dot } from '../../../core/space';

/** A camera's unit right and up directions in base axes. */
export interface Eye {
  readonly right: Vec3;
  readonly up: Vec3;
}

/** Zoom (px per mm) and the point to look at so that all points lie inside the width and height less the margin, px. */
export function frame(
  points: readonly Vec3[],
  eye: Eye,
  widthPx: number,
  heightPx: number,
  marginPx: number,
): { zoom: number; target: Vec3 } {
  let [l, r, b, t] = [Infinity, -Infinity, Infinity, -Infinity];
  const middle = boxMiddle(points);
  for (const p of points) {
    const d = sub(p, middle);
    const x = dot(d, eye.right);
    const y = dot(d, eye.up);
    [l, r, b, t] = [Math.min(l, x), Math.max(r, x), Math.min(b, y), Math.max(t, y)];
  }
  if (!(r >= l)) return { zoom: 1, target: [0, 0, 0] };
  const room = (px: number): number => Math.max(px - 2 * marginPx, px * 0.3, 1);
  const zoom = Math.min(room(widthPx) / Math.max(r - l, 1), room(heightPx) / Math.max(t - b, 1));
  const [cx, cy] = [(l + r) / 2, (b + t) / 2];
  return {
    zoom,
    target: add(middle, add(scale(eye.right, cx), scale(eye.up, cy))),
  };
}

/** Index of the screen point nearest to x, y within reach, the one nearer to the eye where two are as close; or −1. */
export function nearest(
  points: readonly { readonly x: number; readonly y: number; readonly depth: number }[],
  x: number,
  y: number,
  reachPx: number,
): number {
  let best = -1;
  let bestScore = Infinity;
  points.forEach((p, i) => {
    const off = Math.hypot(p.x - x, p.y - y);
    if (!(off <= reachPx)) return;
    // a pixel counts for more than any depth
    const score = Math.round(off) + Math.min(Math.max(p.depth, 0), 1) * 0.5;
    if (score < bestScore) [best, bestScore] = [i, score];
  });
  return best;
}

/**
 * The direction from which to look at first, unit, from the scene to the eye: the one of a ring of candidates that never
 * sees the lid edge-on and has the struts on the near side. `normals`: unit normals of the lid over its travel;
 * `near`: from the middle of the scene to what should be near, any length.
 */
export function firstLook(normals: readonly Vec3[], near: Vec3): Vec3 {
  const reach = Math.hypot(near[0], near[1], near[2]) || 1;
  let best: Vec3 = [-0.6, -0.65, 0.45];
  let bestScore = -Infinity;
  for (const upDeg of [16, 24, 34])
    for (let around = 15; around < 360; around += 15) {
      // a look straight along an axis flattens the scene
      if (around % 90 === 0) continue;
      const [a, u] = [toRad(around), toRad(upDeg)];
      const eye: Vec3 = [cos(u) * cos(a), cos(u) * sin(a), sin(u)];
      const face = Math.min(1, ...normals.map((n) => Math.abs(dot(n, eye))));
      const off = Math.min(around % 90, 90 - (around % 90));
      const score = Math.min(face, 0.35) * 2 + (dot(near, eye) / reach) * 0.8 + Math.min(off, 30) / 90 + upDeg / 400;
      if (score > bestScore) [best, bestScore] = [eye, score];
    }
  return best;
}

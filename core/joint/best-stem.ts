import { type Vec3, asin, cross, dot, norm, perpendicularTo, scale, toDeg, unit } from '../space';
import { type Swing, directionAt, highestOverTravel } from './swing';

/** A stem free on the sphere, in its own body's axes (lid: as closed), and how far off square it gets, degrees. */
export interface BestStem {
  readonly stem: Vec3;
  readonly deviationDeg: number;
}

/** A corner of { x : |u·x| ≤ 1 for all cuts u }, with the cuts that meet there. */
interface Corner {
  readonly at: Vec3;
  readonly norm: number;
}

/** The two unsigned corners… of three cuts: solves s₁u₁·x = s₂u₂·x = s₃u₃·x = 1 for the four signs that are not mirror images. */
function corners(a: Vec3, b: Vec3, c: Vec3): Vec3[] {
  const bc = cross(b, c);
  const det = dot(a, bc);
  if (Math.abs(det) < 1e-13) return [];
  const ca = cross(c, a);
  const ab = cross(a, b);
  const found: Vec3[] = [];
  for (const s of [1, -1])
    for (const t of [1, -1])
      found.push([
        (bc[0] + s * ca[0] + t * ab[0]) / det,
        (bc[1] + s * ca[1] + t * ab[1]) / det,
        (bc[2] + s * ca[2] + t * ab[2]) / det,
      ]);
  return found;
}

/** A stem square to both ends of the travel, or, where the strut does not turn, square to it and nearest to `near`. */
function squareTo(swing: Swing, near: Vec3): Vec3 {
  const u = directionAt(swing, 0);
  let far = u;
  for (let i = 1; i < swing.angleDeg.length; i++) {
    const v = directionAt(swing, i);
    if (norm(cross(u, v)) > norm(cross(u, far))) far = v;
  }
  const square = cross(u, far);
  if (norm(square) > 1e-9) return unit(square);
  for (const wish of [near, [0, 0, 1], [1, 0, 0], [0, 1, 0]] as Vec3[]) {
    const lying = perpendicularTo(wish, u);
    if (norm(lying) > 1e-6) return unit(lying);
  }
  return [0, 0, 1];
}

/**
 * The stem whose largest deviation from square over the travel is smallest, free on the sphere. Of the two ends of that
 * line, the one on the side of `near` (the present stem) is returned.
 *
 * min max |n·u| over unit n is 1 over the largest |x| with |u·x| ≤ 1 for all u: a convex body, so its furthest point is a
 * corner where three cuts meet. Corners of a few cuts are listed; the furthest is tried against the whole travel, between
 * its rows too; where it breaks, that opening angle becomes a cut. The corner tried can only come nearer, and the first
 * one that holds everywhere is the best there is, not just a near one.
 */
export function bestStem(swing: Swing, near: Vec3 = [0, 0, 1]): BestStem {
  const facing = (n: Vec3): Vec3 => (dot(n, near) < 0 ? scale(n, -1) : n);
  const along = (n: Vec3) => highestOverTravel(swing, (u) => Math.abs(dot(n, u)));
  const flat = squareTo(swing, near);
  const first = along(flat);
  let best = { stem: flat, sine: first.value };
  if (first.value > 1e-12) {
    const n = swing.angleDeg.length;
    const cuts: Vec3[] = [directionAt(swing, 0), directionAt(swing, n - 1), swing.at(first.atDeg)];
    // three cuts must span space before corners exist: add rows until they do
    for (let i = 0; i < n; i += Math.max(1, Math.floor(n / 6))) cuts.push(directionAt(swing, i));
    let list: Corner[] = [];
    const used: Vec3[] = [];
    const cut = (u: Vec3): void => {
      list = list.filter((c) => Math.abs(dot(u, c.at)) <= 1 + 1e-12);
      for (let i = 0; i < used.length; i++)
        for (let k = i + 1; k < used.length; k++)
          for (const x of corners(u, used[i]!, used[k]!))
            if (used.every((v) => Math.abs(dot(v, x)) <= 1 + 1e-9)) list.push({ at: x, norm: norm(x) });
      used.push(u);
    };
    for (const u of cuts) if (used.every((v) => norm(cross(u, v)) > 1e-7)) cut(u);
    for (let round = 0; round < 60 && list.length > 0; round++) {
      const furthest = list.reduce((x, y) => (y.norm > x.norm ? y : x));
      const stem = unit(furthest.at);
      const worst = along(stem);
      if (worst.value < best.sine) best = { stem, sine: worst.value };
      // the corner's own 1/|x| is a bound from below: nothing beats it
      if (best.sine <= 1 / furthest.norm + 1e-12) break;
      const u = swing.at(worst.atDeg);
      if (used.some((v) => norm(cross(u, v)) < 1e-10)) break;
      cut(u);
    }
  }
  return { stem: facing(best.stem), deviationDeg: toDeg(asin(Math.min(1, best.sine))) };
}

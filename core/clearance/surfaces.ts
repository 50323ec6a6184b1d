import type { EndName, ResolvedJob } from '../job';
import { zonePlane } from '../job';
import { type Corner, insideOutline } from '../solid';
import { type Vec3, add, axisVec, cross, dot, norm, perpendicularTo, scale, sub, unit } from '../space';
import type { Axis } from '../travel';
import { openingPlane, panelReach } from './lid-room';
import { VIEW_FRAMES, boxAxes } from './obstacles';

/** A flat face that a mount can stand on; its body's axes, lid closed, mm. */
export interface Surface {
  readonly name: string;
  readonly on: EndName;
  /** Unit, out of the surface. */
  readonly normal: Vec3;
  readonly corners: readonly Vec3[];
  /** A zone: only thought of, so that it is seen through and from behind too. */
  readonly zone: boolean;
}

const middleOf = (corners: readonly Vec3[]): Vec3 => scale(corners.reduce(add), 1 / corners.length);

/** The faces of a prism between two outlines of as many corners; empty ones left out. */
function prismFaces(low: readonly Vec3[], high: readonly Vec3[]): (readonly Vec3[])[] {
  const n = low.length;
  return [low, high, ...low.map((p, i) => [p, low[(i + 1) % n]!, high[(i + 1) % n]!, high[i]!])];
}

const areaVector = (corners: readonly Vec3[]): Vec3 =>
  corners.reduce<Vec3>(
    (sum, c, i) => {
      const [p, q] = [sub(c, corners[0]!), sub(corners[(i + 1) % corners.length]!, corners[0]!)];
      return add(sum, cross(p, q));
    },
    [0, 0, 0],
  );

/** Whether a place just off a face lies inside the prism of these faces: an odd number of them lies beyond it. */
function beyond(faces: readonly (readonly Vec3[])[], from: Vec3, way: Vec3): number {
  return faces.filter((face) => {
    const area = areaVector(face);
    if (!(norm(area) > 1e-9)) return false;
    const n = unit(area);
    const along = dot(way, n);
    if (Math.abs(along) < 1e-9) return false;
    const run = dot(sub(face[0]!, from), n) / along;
    return run > 0 && covers(face, n, add(from, scale(way, run)));
  }).length;
}

/** Whether a place in a face's plane lies within its corners. */
function covers(corners: readonly Vec3[], normal: Vec3, at: Vec3): boolean {
  const e = unit(perpendicularTo(axisVec(normal.map(Math.abs).indexOf(Math.min(...normal.map(Math.abs)))), normal));
  const f = cross(normal, e);
  const flat = (p: Vec3): Corner => [dot(p, e), dot(p, f)];
  return insideOutline(corners.map(flat), flat(at));
}

/** A prism's faces with the normals that point out of it. */
function outward(name: string, on: EndName, low: readonly Vec3[], high: readonly Vec3[]): Surface[] {
  const faces = prismFaces(low, high);
  return faces.flatMap((corners): Surface[] => {
    const area = areaVector(corners);
    if (!(norm(area) > 1e-6)) return [];
    const normal = unit(area);
    // a little aside of the middle, so that a corner of another face is not met by chance
    const inner = add(middleOf(corners), scale(sub(corners[0]!, middleOf(corners)), 0.01));
    const inside = beyond(faces, add(inner, scale(normal, 1e-3)), normal) % 2 === 1;
    return [{ name, on, normal: inside ? scale(normal, -1) : normal, corners, zone: false }];
  });
}

/**
 * Flat faces of a job that a mount can stand on: of boxes and traced outlines, the lid's two sides, and zones. Pipes have none.
 * The job must have passed assertComputable.
 */
export function surfacesOf(job: ResolvedJob, axis: Pick<Axis, 'origin' | 'opening'>): Surface[] {
  const obstacles = job.obstacles.flatMap(({ id, name = id, on, box, traced }): Surface[] => {
    if (box) {
      const [x, y, z] = boxAxes(box.rotationDeg ?? [0, 0, 0]).map((way, k) => scale(way, box.sizeMm[k]! / 2)) as [Vec3, Vec3, Vec3]; // prettier-ignore
      const face = (k: number): Vec3[] =>
        [-1, 1, 1, -1].map((i, n) => add(box.centre, add(scale(x, i), add(scale(y, n < 2 ? -1 : 1), scale(z, k)))));
      return outward(name, on, face(-1), face(1));
    }
    if (!traced || traced.corners.length < 3) return [];
    const { x, y, z } = VIEW_FRAMES[traced.view];
    const at = (depth: number): Vec3[] =>
      traced.corners.map(([h, v]) => add(add(scale(x, h), scale(y, v)), scale(z, depth)));
    return outward(name, on, at(Math.min(...traced.depthMm)), at(Math.max(...traced.depthMm)));
  });
  const plane = openingPlane(job, axis);
  const reach = panelReach(job) ?? { upMm: 0, downMm: 0 };
  const side = (name: string, depth: number, sense: 1 | -1): Surface[] => {
    if (!plane) return [];
    const { origin, x, y, z } = plane.frame;
    const corners = plane.corners.map(([h, v]) => add(origin, add(add(scale(x, h), scale(y, v)), scale(z, depth))));
    return [{ name, on: 'lid', normal: scale(z, sense), corners, zone: false }];
  };
  return [
    ...obstacles,
    ...side('the inside of the lid', -reach.downMm, -1),
    ...side('the outside of the lid', reach.upMm, 1),
    ...job.zones.map((zone): Surface => ({
      name: zone.name ?? zone.id,
      on: zone.on,
      normal: zonePlane(zone).normal,
      corners: zone.corners,
      zone: true,
    })),
  ];
}

/** A surface this far turned from the line of sight is seen as a line: 3°. */
const EDGE_ON = 0.05;

/**
 * The surface that a click in a view means, or null: of those seen as a line the nearest within `withinMm`, else of those that
 * look at the eye the foremost. `eye`: unit, towards whoever looks; `at`: any place on the line of sight, mm; `pose` puts a
 * place of the lid (or a way, with `turn`) where it is seen.
 */
export function surfaceSeen(
  surfaces: readonly Surface[],
  sight: { readonly eye: Vec3; readonly at: Vec3; readonly withinMm: number },
  pose: { readonly place: (p: Vec3) => Vec3; readonly turn: (way: Vec3) => Vec3 } = { place: (p) => p, turn: (w) => w },
): Surface | null {
  const { eye, at, withinMm } = sight;
  let line: { surface: Surface; off: number } | null = null;
  let face: { surface: Surface; near: number } | null = null;
  for (const surface of surfaces) {
    const lid = surface.on === 'lid';
    const corners = lid ? surface.corners.map(pose.place) : surface.corners;
    const normal = lid ? pose.turn(surface.normal) : surface.normal;
    const facing = dot(normal, eye);
    if (Math.abs(facing) < EDGE_ON) {
      const off = Math.min(...corners.map((c, i) => fromSegment(at, c, corners[(i + 1) % corners.length]!, eye)));
      if (off <= withinMm && off < (line?.off ?? Infinity) - 1e-9) line = { surface, off };
      continue;
    }
    if (facing < 0 && !surface.zone) continue;
    const run = dot(sub(corners[0]!, at), normal) / facing;
    const hit = add(at, scale(eye, run));
    if (covers(corners, normal, hit) && dot(hit, eye) > (face?.near ?? -Infinity))
      face = { surface, near: dot(hit, eye) };
  }
  return line?.surface ?? face?.surface ?? null;
}

/** How far a place is from a segment as seen along `eye`. */
function fromSegment(at: Vec3, a: Vec3, b: Vec3, eye: Vec3): number {
  const [p, q] = [perpendicularTo(sub(at, a), eye), perpendicularTo(sub(b, a), eye)];
  const t = Math.min(1, Math.max(0, dot(p, q) / (dot(q, q) || 1)));
  return norm(sub(p, scale(q, t)));
}

/** A ball stands so far off its mount at the most, mm. */
const REACH_MM = 150;

/** The surface that a ball stands over the nearest, within 150 mm of it; null where it stands over none. */
export function surfaceUnder(surfaces: readonly Surface[], ball: Vec3, on: EndName): Surface | null {
  let best: { surface: Surface; off: number } | null = null;
  for (const surface of surfaces) {
    if (surface.on !== on) continue;
    const off = dot(sub(ball, surface.corners[0]!), surface.normal);
    if (off < -1e-6 || off > REACH_MM || off >= (best?.off ?? Infinity)) continue;
    if (covers(surface.corners, surface.normal, sub(ball, scale(surface.normal, off)))) best = { surface, off };
  }
  return best?.surface ?? null;
}

import type { Obstacle, ResolvedJob } from '../job';
import {
  type BodyGap,
  type Convex,
  type OutlineFrame,
  type Solid,
  convexBox,
  convexCylinder,
  convexPieces,
  gapBetween,
  outlineSolid,
} from '../solid';
import {
  type Vec3,
  applyMat,
  cross,
  dot,
  norm,
  perpendicularTo,
  rotationMatrix,
  scale,
  sub,
  add,
  toRad,
  transpose,
} from '../space';
import type { Axis, Passage } from '../travel';
import { VIEW_FRAMES, boxAxes, outlinePlane } from './obstacles';

/** What a thing is called. */
export interface Named {
  readonly id: string;
  readonly name: string;
}

/** A thing that takes room, in convex pieces; its own body's axes, lid closed, mm. */
export interface RoomBody extends Named {
  readonly pieces: readonly Convex[];
}

type Shape = Pick<Obstacle, 'box' | 'cylinder' | 'traced'>;

/** A box, a cylinder or a traced outline in convex pieces. */
export function shapePieces({ box, cylinder, traced }: Shape): Convex[] {
  if (box) return [convexBox(box.centre, boxAxes(box.rotationDeg ?? [0, 0, 0]), scale(box.sizeMm, 0.5))];
  if (cylinder) return [convexCylinder(cylinder.from, cylinder.to, cylinder.radiusMm)];
  if (!traced) return [];
  const { view, corners, depthMm } = traced;
  return convexPieces(VIEW_FRAMES[view], corners, Math.min(...depthMm), Math.max(...depthMm));
}

/** How far the panel reaches from the plane of its outline the way the lid opens, and against it, mm; null where nobody said how thick it is. */
export function panelReach({
  panel,
}: Pick<ResolvedJob, 'panel'>): { readonly upMm: number; readonly downMm: number } | null {
  if (!panel) return null;
  const layers = (panel.layers ?? []).reduce((sum, l) => sum + l.thicknessMm, 0);
  const half = (panel.thicknessMm ?? layers) / 2;
  const reach = { upMm: panel.upMm ?? half, downMm: panel.downMm ?? half };
  return reach.upMm + reach.downMm > 0 ? reach : null;
}

/** The plane of the outline with its normal the way the lid opens; null without one. */
export function openingPlane(
  job: Pick<ResolvedJob, 'points' | 'outline'>,
  axis: Pick<Axis, 'origin' | 'opening'>,
): ReturnType<typeof outlinePlane> {
  const plane = outlinePlane(job);
  if (!plane) return null;
  const { frame, corners } = plane;
  const way = dot(frame.z, cross(axis.opening, sub(frame.origin, axis.origin)));
  if (way >= 0) return plane;
  // the other side up: the plane turned over, corners in the same order round
  const turned: OutlineFrame = { ...frame, y: scale(frame.y, -1), z: scale(frame.z, -1) };
  return { frame: turned, corners: corners.map(([h, v]) => [h, -v] as const) };
}

/** The lid's panel as a solid, a sheet where nobody said how thick it is; null without an outline. */
export function panelSolid(
  job: Pick<ResolvedJob, 'points' | 'outline' | 'panel'>,
  axis: Pick<Axis, 'origin' | 'opening'>,
): Solid | null {
  const { upMm, downMm } = panelReach(job) ?? { upMm: 0, downMm: 0 };
  const plane = openingPlane(job, axis);
  return plane && outlineSolid(plane.frame, plane.corners, -downMm, upMm);
}

/** A load that takes room on the lid, lid closed, mm. */
export interface LoadBody {
  readonly id: string;
  readonly name: string;
  readonly body: Shape;
}

/** The loads of a job that take room. */
export const loadBodies = (masses: ResolvedJob['masses']): LoadBody[] =>
  masses.flatMap(({ id, name, body }) => (body ? [{ id, name: name ?? id, body }] : []));

/** The lid's panel and its loads as bodies. */
export function lidBodies({
  panel,
  loads,
}: {
  readonly panel: (NonNullable<ReturnType<typeof openingPlane>> & NonNullable<ReturnType<typeof panelReach>>) | null;
  readonly loads: readonly LoadBody[];
}): RoomBody[] {
  const plate = panel
    ? [
        {
          id: 'panel',
          name: 'the lid’s panel',
          pieces: convexPieces(panel.frame, panel.corners, -panel.downMm, panel.upMm),
        },
      ]
    : [];
  return [...plate, ...loads.map(({ id, name, body }) => ({ id, name, pieces: shapePieces(body) }))];
}

/** Obstacles that ride on a body. */
export const obstaclesOn = (on: 'base' | 'lid', obstacles: readonly Obstacle[]): RoomBody[] =>
  obstacles.filter((o) => o.on === on).map((o) => ({ id: o.id, name: o.name ?? o.id, pieces: shapePieces(o) }));

/** What the lid's bodies leave to a thing on the base over the travel. */
export interface Room {
  /** Least gap, mm; 0 where they meet. */
  readonly gapMm: number;
  /** Opening angle of it, degrees. */
  readonly atDeg: number;
  readonly body: Named;
  /** Where they first meet, degrees; null: nowhere. */
  readonly touchDeg: number | null;
  /** Up to here at least the gap that is wanted is kept, degrees. */
  readonly clearDeg: number;
  /** They are nearer than wanted with the lid shut, and part as it opens: it rests there. */
  readonly rests: boolean;
  /** false: they glide past each other so close that the looks ran out; nothing is known then. */
  readonly known: boolean;
}

/** Gaps are known within this, mm. */
const WITHIN_MM = 0.05;
/** Nearer than this two bodies touch, mm. */
const TOUCH_MM = 0.02;
/** What the lid rests on it has left within so many degrees, looked at in such steps. */
const LEAVES_DEG = 12;
/** What rests parts before the farthest point has moved this far, mm; what does not stands in the other, and the lid can't close. */
const PARTS_MM = 5;
const LEAVES_STEP_DEG = 0.25;
const MOST_LOOKS = 3000;

/** Greatest distance of a piece from the hinge line: mm that it moves a radian, at most. */
function paceOf(piece: Convex, { origin, along }: Axis): number {
  return norm(perpendicularTo(sub(piece.centre, origin), along)) + piece.reachMm;
}

/** A piece turned with the lid. */
function turnedBy({ origin, opening }: Axis, deg: number): (piece: Convex) => Convex {
  const to = rotationMatrix(opening, toRad(deg));
  const back = transpose(to);
  const put = (p: Vec3): Vec3 => add(origin, applyMat(to, sub(p, origin)));
  return ({ centre, reachMm, support }) => ({
    ...{ centre: put(centre), reachMm },
    support: (way) => put(support(applyMat(back, way))),
  });
}

/**
 * The room that one body on the lid leaves to one on the base. Angles are passed by as far as the gap lets it (a point of the
 * lid moves no faster than its distance from the hinge), so the first touch is missed nowhere; the least gap is then narrowed
 * down the same way to 0.05 mm. `wantedMm`: the gap that is to be kept.
 */
export function roomOf(axis: Axis, openDeg: number, lid: RoomBody, base: RoomBody, wantedMm: number): Room {
  let looks = 0;
  const gapAt = (deg: number): number => {
    looks++;
    const turn = turnedBy(axis, deg);
    let best: Pick<BodyGap, 'distanceMm'> = { distanceMm: Infinity };
    for (const piece of lid.pieces.map(turn))
      for (const other of base.pieces) {
        if (norm(sub(piece.centre, other.centre)) - piece.reachMm - other.reachMm >= best.distanceMm) continue;
        const gap = gapBetween(piece, other);
        if (gap.distanceMm < best.distanceMm) best = gap;
      }
    return best.distanceMm;
  };
  const pace = toRad(1) * Math.max(...lid.pieces.map((p) => paceOf(p, axis)));
  const room = (found: Omit<Room, 'body'>): Room => ({ ...found, body: { id: lid.id, name: lid.name } });
  const shut = gapAt(0);
  let from = 0;
  if (shut < wantedMm) {
    // it rests there where it parts at once, and soon leaves it as far behind as is wanted
    const last = Math.min(LEAVES_DEG, openDeg);
    const sunk = shut < TOUCH_MM && gapAt(Math.min(last, PARTS_MM / pace)) < TOUCH_MM;
    while (!sunk && from < last && gapAt(from) < wantedMm) from = Math.min(last, from + LEAVES_STEP_DEG);
    if (sunk || gapAt(from) < wantedMm)
      return room({
        gapMm: shut,
        atDeg: 0,
        touchDeg: shut < TOUCH_MM ? 0 : null,
        clearDeg: 0,
        rests: false,
        known: true,
      });
  }
  const known: (readonly [number, number])[] = [];
  let touchDeg: number | null = null;
  let clearDeg: number | null = null;
  for (let deg = from; ;) {
    const gap = gapAt(deg);
    known.push([deg, gap]);
    if (clearDeg === null && gap < wantedMm) clearDeg = deg;
    if (gap < TOUCH_MM) {
      touchDeg = deg;
      break;
    }
    if (deg >= openDeg) break;
    // up to the wanted gap first, then up to the touch
    const left = clearDeg === null ? Math.max(gap - wantedMm, WITHIN_MM) : gap;
    deg = Math.min(openDeg, deg + left / pace);
    if (looks > MOST_LOOKS)
      return room({ gapMm: gap, atDeg: deg, touchDeg, clearDeg: clearDeg ?? deg, rests: from > 0, known: false });
  }
  let [atDeg, least] = known.reduce((a, b) => (b[1] < a[1] ? b : a));
  if (touchDeg === null) {
    const open = known.slice(1).map((b, i) => [known[i]!, b] as const);
    while (open.length > 0 && looks < MOST_LOOKS) {
      const [a, b] = open.pop()!;
      if ((a[1] + b[1] - pace * (b[0] - a[0])) / 2 >= least - WITHIN_MM) continue;
      const middle = (a[0] + b[0]) / 2;
      const m = [middle, gapAt(middle)] as const;
      if (m[1] < least) [atDeg, least] = m;
      open.push([a, m], [m, b]);
    }
  }
  return room({ gapMm: least, atDeg, touchDeg, clearDeg: clearDeg ?? openDeg, rests: from > 0, known: true });
}

/** What each thing on the base leaves to the lid: of all on the lid what touches first, else what comes nearest. */
export interface LidRooms extends Pick<Passage, 'openDeg' | 'caseId'> {
  readonly wantedMm: number;
  /** Whether there is anything on the lid to look at. */
  readonly bare: boolean;
  readonly found: readonly { readonly thing: Named; readonly worst: Room; readonly rooms: readonly Room[] }[];
}

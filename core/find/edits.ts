// Edits of zones. Applying a place is in `apply.ts`.
import { fail } from '../error';
import {
  type Job,
  type JobZone,
  type Path,
  append,
  freshId,
  indexOf,
  onPlane,
  removeFrom,
  resolveJob,
  setValue,
  valueAt,
  zonePlane,
} from '../job';
import { type Vec2, type Vec3, add, cross, dot, plateOf, scale, sub, toRad, unit } from '../space';
import { closedFrom, openingAxis } from '../travel';
import { ballAt, grown, siteOf } from './site';

/** A zone as it is added: its id is found for it. */
export type NewZone = Omit<JobZone, 'id'>;

const fine = (v: Vec3): Vec3 => v.map((c) => Math.round(c * 1000) / 1000 + 0) as unknown as Vec3;

/** Adds a zone; its id is "zone", "zone2", … */
export function addZone(job: Job, args: { zone: NewZone }): Job {
  return append(job, 'zones', { id: freshId(job, 'zones', 'zone'), ...args.zone });
}

/** Removes a zone; throws a LidwrightError when it isn't there. */
export function removeZone(job: Job, args: { id: string }): Job {
  const left = removeFrom(job, 'zones', args.id);
  if (left.zones!.length > 0) return left;
  const { zones: _none, ...rest } = left;
  return rest;
}

/** Numbers at a path and on, those that a given or an expression holds left as they are. */
const putAt = (job: Job, path: Path, to: Vec3): Job =>
  to.reduce<Job>(
    (now, value, k) =>
      typeof valueAt(now, [...path, k]) === 'number' ? setValue(now, { path: [...path, k], value }) : now,
    job,
  );

/** Puts a corner where `to` falls onto the zone's plane (mm, base frame, lid closed). A coordinate that is held stays held. */
export function moveZoneCorner(job: Job, args: { id: string; corner: number; to: Vec3 }): Job {
  const i = indexOf(job, 'zones', args.id);
  const plane = zonePlane(resolveJob(job).zones[i]!);
  const { offMm } = onPlane(plane, args.to);
  return putAt(job, ['zones', i, 'corners', args.corner], fine(sub(args.to, scale(plane.normal, offMm))));
}

/** The same with the corner put where it is seen, the lid standing at angleDeg. */
export function moveZoneCornerPosed(
  job: Job,
  args: { id: string; corner: number; posed: Vec3; angleDeg: number },
): Job {
  const { id, corner, posed, angleDeg } = args;
  const resolved = resolveJob(job);
  const rides = resolved.zones[indexOf(job, 'zones', id)]!.on === 'lid';
  const to = rides ? closedFrom(openingAxis(resolved), posed, toRad(angleDeg)) : posed;
  return moveZoneCorner(job, { id, corner, to });
}

/** Shifts a zone's surface the way it faces, mm. */
export function moveZone(job: Job, args: { id: string; byMm: number }): Job {
  const i = indexOf(job, 'zones', args.id);
  const zone = resolveJob(job).zones[i]!;
  const by = scale(zonePlane(zone).normal, args.byMm);
  return zone.corners.reduce<Job>((now, c, k) => putAt(now, ['zones', i, 'corners', k], fine(add(c, by))), job);
}

/** Lets a zone face the other way. */
export function turnZone(job: Job, args: { id: string }): Job {
  const i = indexOf(job, 'zones', args.id);
  return putAt(job, ['zones', i, 'faces'], scale(resolveJob(job).zones[i]!.faces, -1));
}

/** A ball stands so far off a surface where nobody has said, mm. */
const USUAL_OFF = [15, 60] as const;
/** Kept free at the edge of a surface, mm. */
const EDGE_MM = 20;

const noLid = (): never =>
  fail(
    'the lid has no surface yet',
    ['outline'],
    'Trace three corners of the lid at least, or draw the zone over a view.',
  );

/** The lid's outline as a plate, and how thick; throws a LidwrightError where corners are few or stand in the hinge's way. */
function lidPlate(job: Job): { corners: Vec3[]; out: Vec3; along: Vec3; thickMm: number } {
  const resolved = resolveJob(job);
  const corners = resolved.outline.map((id) => resolved.points.find((p) => p.id === id)!.at);
  const plate = plateOf(corners);
  if (!plate) return noLid();
  const axis = openingAxis(resolved);
  // an outline traced from the side stands along the way that it turns: it is no surface to fix anything to
  if (Math.abs(dot(plate.normal, axis.along)) > 0.7) return noLid();
  const grip = resolved.points.find((p) => p.id === resolved.grip)!.at;
  const arm = sub(grip, axis.origin);
  const opens = cross(axis.opening, arm);
  const out = dot(opens, plate.normal) < 0 ? scale(plate.normal, -1) : plate.normal;
  return { corners, out, along: axis.along, thickMm: resolved.panel?.thicknessMm ?? 0 };
}

/** All of the lid's inside less 20 mm at its edge, as a zone. Throws a LidwrightError where the lid has no surface. */
export function insideOfLid(job: Job): NewZone {
  const { corners, out, thickMm } = lidPlate(job);
  const faces = scale(out, -1);
  const inner = corners.map((c) => add(c, scale(faces, thickMm)));
  const site = siteOf({ id: '', on: 'lid', corners: inner, faces, offMm: [...USUAL_OFF] });
  return {
    name: 'Inside of the lid',
    on: 'lid',
    corners: grown(site.corners, -EDGE_MM).map(([x, y]: Vec2) => fine(ballAt(site, x, y, 0))),
    faces: fine(unit(faces)),
    offMm: [...USUAL_OFF],
    strength: 'plain',
  } as NewZone;
}

/**
 * Two walls under the lid's edges that stand across the hinge, seen from inside, down to the lowest point of the base, and a third
 * of the lid's depth at least. A guess that a person corrects. Throws a LidwrightError where the lid has no surface.
 */
export function sideWalls(job: Job): NewZone[] {
  const { corners, out, along } = lidPlate(job);
  const resolved = resolveJob(job);
  const origin = corners[0]!;
  const reach = unit(cross(along, out));
  const side = cross(out, reach);
  const range = (way: Vec3): [number, number] => {
    const all = corners.map((c) => dot(sub(c, origin), way));
    return [Math.min(...all), Math.max(...all)];
  };
  const [near, far] = range(reach);
  const [left, right] = range(side);
  const base = resolved.points.filter((p) => p.on === 'base').map((p) => dot(sub(p.at, origin), out));
  const deep = Math.max((far - near) / 3, -Math.min(...base, 0));
  const spot = (u: number, v: number, s: number): Vec3 =>
    fine(add(origin, add(add(scale(reach, u), scale(out, v)), scale(side, s))));
  const [a, b] = [near + EDGE_MM, far - EDGE_MM];
  return ([left, right] as const).map((s, k) => ({
    name: k === 0 ? 'Side wall, one side' : 'Side wall, other side',
    on: 'base',
    corners: [spot(a, -deep, s), spot(b, -deep, s), spot(b, -EDGE_MM, s), spot(a, -EDGE_MM, s)],
    faces: fine(scale(side, k === 0 ? 1 : -1)),
    offMm: [...USUAL_OFF],
    strength: 'plain',
  })) as unknown as NewZone[];
}

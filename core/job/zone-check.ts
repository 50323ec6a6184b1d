import type { Issue } from '../error';
import {
  type Vec2,
  type Vec3,
  add,
  axisVec,
  cross,
  dot,
  norm,
  perpendicularTo,
  plateOf,
  scale,
  sub,
  unit,
} from '../space';
import { specIssues, specOf } from '../strut';
import { crossingSides } from './obstacle-check';
import type { FindOptions, Zone } from './types';

/** A corner may lie so far off its zone's plane, mm. */
const FLAT_MM = 1;

/** A zone's plane: through the mean of its corners, square to the way it faces; e and f lie in it, unit and square. */
export interface ZonePlane {
  readonly middle: Vec3;
  readonly normal: Vec3;
  readonly e: Vec3;
  readonly f: Vec3;
}

/** Throws nothing; the way it faces must have a length. */
export function zonePlane(zone: Pick<Zone, 'corners' | 'faces'>): ZonePlane {
  const normal = unit(zone.faces);
  const least = normal.map(Math.abs).indexOf(Math.min(...normal.map(Math.abs)));
  const e = unit(perpendicularTo(axisVec(least), normal));
  const middle = scale(zone.corners.reduce(add), 1 / zone.corners.length);
  return { middle, normal, e, f: cross(normal, e) };
}

/** A place as its foot in a zone's plane (along e and f from the middle) and how far it stands off it, mm. */
export function onPlane(plane: ZonePlane, at: Vec3): { readonly foot: Vec2; readonly offMm: number } {
  const d = sub(at, plane.middle);
  return { foot: [dot(d, plane.e), dot(d, plane.f)], offMm: dot(d, plane.normal) };
}

/** What keeps a zone from being a flat patch; paths lead from `where`. */
export function zoneIssues(zone: Zone, where: readonly (string | number)[]): Issue[] {
  const issues: Issue[] = [];
  const name = `the zone "${zone.name ?? zone.id}"`;
  const say = (what: string, key: readonly (string | number)[], advice: string): void =>
    void issues.push({ what: `${name} ${what}`, where: [...where, ...key], advice });
  const [least, most] = zone.offMm;
  if (least > most)
    say(`lets a ball stand off from ${least} mm to ${most} mm`, ['offMm'], 'Give the least first, then the most.');
  if (!(norm(zone.faces) > 0)) {
    say('faces no way', ['faces'], 'Give the direction that points out of its surface, not 0, 0, 0.');
    return issues;
  }
  if (zone.corners.length < 3) {
    say(`has ${zone.corners.length} corners`, ['corners'], 'Give three corners at least.');
    return issues;
  }
  const plane = zonePlane(zone);
  const flat = zone.corners.map((corner) => onPlane(plane, corner));
  const worst = flat.reduce((a, b, i) => (Math.abs(b.offMm) > Math.abs(flat[a]!.offMm) ? i : a), 0);
  const offMm = Math.abs(flat[worst]!.offMm);
  if (offMm > FLAT_MM)
    say(
      `is not flat: corner ${worst + 1} lies ${offMm.toFixed(1)} mm off the plane that stands square to the way it faces`,
      ['corners', worst],
      'Move that corner, or correct the way the zone faces.',
    );
  else if (plateOf(zone.corners) === null)
    say('has no area', ['corners'], 'Give three corners or more that do not lie in one line.');
  else {
    const crossing = crossingSides(flat.map(({ foot }) => foot));
    if (crossing)
      say(
        `has an edge that crosses itself: sides ${crossing[0] + 1} and ${crossing[1] + 1}`,
        ['corners', crossing[1]],
        'Give the corners in order round the patch.',
      );
  }
  return issues;
}

/** What is wrong with what places are looked for with. */
export function findIssues(find: FindOptions | undefined): Issue[] {
  if (!find) return [];
  const issues: Issue[] = [];
  const say = (what: string, where: readonly (string | number)[], advice: string): void =>
    void issues.push({ what, where: ['find', ...where], advice });
  if (find.openDeg) {
    const [least, most] = find.openDeg;
    if (least > most)
      say(`the lid shall open from ${least}° to ${most}°`, ['openDeg'], 'Give the least first, then the most.');
    else if (Math.floor(most) < Math.ceil(least))
      say(`between ${least}° and ${most}° there is no whole degree`, ['openDeg'], 'Widen the range.');
  }
  if (typeof find.list === 'object')
    find.list.entries.forEach((entry, i) => {
      const where = ['list', 'entries', i];
      if (entry.forceMaxN < entry.forceMinN)
        say(
          `the strut "${entry.name}" has its greatest force under its least`,
          [...where, 'forceMaxN'],
          'Swap them, or correct one.',
        );
      for (const { what, where: key, advice } of specIssues(specOf(entry, entry.forceMinN)))
        issues.push({ what: `the strut "${entry.name}": ${what}`, where: ['find', ...where, ...key], advice });
    });
  return issues;
}

import { type Issue, LidwrightError } from '../error';
import { cos, sin, tan, toRad } from '../space';

/** A hole through a wedge: where its axis meets the underside, from the middle of the footprint, x toward the thick end. */
export interface WedgeHole {
  readonly xMm: number;
  readonly yMm: number;
  readonly diameterMm: number;
}

/** A wedge as a part. Lengths mm. Its underside lies on the mount; its face rises along +x. */
export interface WedgeSpec {
  readonly id: string;
  readonly name: string;
  readonly angleDeg: number;
  readonly footprint:
    | { readonly kind: 'rectangle'; readonly lengthMm: number; readonly widthMm: number }
    | { readonly kind: 'round'; readonly diameterMm: number };
  /** Thickness at the thin end. */
  readonly thinMm: number;
  /** Holes stand square to the face (a stud that seats on it) or to the underside (screws into the mount). */
  readonly squareTo: 'face' | 'underside';
  readonly holes: readonly WedgeHole[];
  readonly material: { readonly name: string; readonly densityKgM3: number };
}

/** Steepest wedge that is still one: past this, bend a bracket instead. */
export const STEEPEST_DEG = 45;
const LONGEST_MM = 2000;
/** Least wall round a hole and least thickness at the thin end that a printed or cut wedge keeps, mm: common practice, no source. */
export const LEAST_WALL_MM = 2;

/** Extent along x and y, mm. */
export const footprintSize = ({ footprint: f }: WedgeSpec): { readonly lengthMm: number; readonly widthMm: number } =>
  f.kind === 'round' ? { lengthMm: f.diameterMm, widthMm: f.diameterMm } : f;

/** Thickness over a place x, mm. */
export const thicknessAt = (spec: WedgeSpec, xMm: number): number =>
  spec.thinMm + (xMm + footprintSize(spec).lengthMm / 2) * tan(toRad(spec.angleDeg));

/** Thickness at the thick end, mm. */
export const thickMm = (spec: WedgeSpec): number => thicknessAt(spec, footprintSize(spec).lengthMm / 2);

/** Where a hole's axis meets the face, x in mm (y is the same on both). */
export function holeOnFace(spec: WedgeSpec, hole: WedgeHole): number {
  if (spec.squareTo === 'underside') return hole.xMm;
  const angle = toRad(spec.angleDeg);
  // the axis leans back by the wedge's angle: along (−sin, cos) until it meets the face
  return hole.xMm - thicknessAt(spec, hole.xMm) * sin(angle) * cos(angle);
}

/** Half width of a hole along x: longer where it does not stand square to the plane it is seen in. */
export const holeReach = (spec: WedgeSpec, hole: WedgeHole, on: 'face' | 'underside'): number => {
  const slant = spec.squareTo === 'face' ? cos(toRad(spec.angleDeg)) : 1;
  // on the face, seen from above: a circle square to it looks narrower, a hole square to the underside is round
  return on === 'face' ? (hole.diameterMm / 2) * slant : hole.diameterMm / 2 / slant;
};

/** Distance from the rim of a hole, in plan, to the edge of the footprint; negative when it breaks out. */
function wallMm(spec: WedgeSpec, hole: WedgeHole, on: 'face' | 'underside'): number {
  const x = on === 'face' ? holeOnFace(spec, hole) : hole.xMm;
  const [a, b] = [holeReach(spec, hole, on), hole.diameterMm / 2];
  if (spec.footprint.kind === 'rectangle') {
    const { lengthMm, widthMm } = spec.footprint;
    return Math.min(lengthMm / 2 - Math.abs(x) - a, widthMm / 2 - Math.abs(hole.yMm) - b);
  }
  let wall = Infinity;
  for (let i = 0; i < 180; i++) {
    const t = toRad(2 * i);
    wall = Math.min(wall, spec.footprint.diameterMm / 2 - Math.hypot(x + a * cos(t), hole.yMm + b * sin(t)));
  }
  return wall;
}

/** One thing about a wedge: `fails` can't be made; `watch` can, with care. */
export interface WedgeIssue extends Issue {
  readonly severity: 'fails' | 'watch';
}

const mm = (value: number): string => `${Number(value.toFixed(2))} mm`;

/** What stands against making a wedge; empty when nothing does. */
export function checkWedge(spec: WedgeSpec): WedgeIssue[] {
  const issues: WedgeIssue[] = [];
  const say = (severity: WedgeIssue['severity'], where: (string | number)[], what: string, advice: string): void =>
    void issues.push({ severity, where, what, advice });
  const { angleDeg, footprint, thinMm } = spec;
  if (!(angleDeg > 0 && angleDeg <= STEEPEST_DEG))
    say(
      'fails',
      ['angleDeg'],
      `A wedge of ${angleDeg}° is none.`,
      `Give an angle over 0°, up to ${STEEPEST_DEG}°; for more, bend a bracket.`,
    );
  const sizes =
    footprint.kind === 'round'
      ? { diameterMm: footprint.diameterMm }
      : { lengthMm: footprint.lengthMm, widthMm: footprint.widthMm };
  for (const [key, value] of Object.entries(sizes))
    if (!(value > 0 && value <= LONGEST_MM))
      say(
        'fails',
        ['footprint', key],
        `A footprint of ${value} mm can't be cut.`,
        `Give a length over 0, up to ${LONGEST_MM} mm.`,
      );
  if (!(thinMm >= 0 && thinMm <= LONGEST_MM))
    say('fails', ['thinMm'], `A thin end of ${thinMm} mm can't be.`, 'Give 0 or more.');
  spec.holes.forEach((hole, i) => {
    if (
      !(hole.diameterMm > 0 && hole.diameterMm <= LONGEST_MM) ||
      !Number.isFinite(hole.xMm) ||
      !Number.isFinite(hole.yMm)
    )
      say('fails', ['holes', i], `Hole ${i + 1} has no size or no place.`, 'Give its diameter and its place in mm.');
  });
  const density = spec.material.densityKgM3;
  if (!(density > 0 && density <= 30_000))
    say(
      'fails',
      ['material', 'densityKgM3'],
      `The density is ${density} kg/m³.`,
      'Steel is about 7850, aluminium about 2700, printed plastic about 1200.',
    );
  if (issues.length > 0) return issues;
  spec.holes.forEach((hole, i) => {
    const wall = Math.min(wallMm(spec, hole, 'face'), wallMm(spec, hole, 'underside'));
    if (wall <= 1e-6)
      say(
        'fails',
        ['holes', i],
        `Hole ${i + 1} breaks out over the edge.`,
        'Move it in, make it smaller, or the footprint larger.',
      );
    else if (wall < LEAST_WALL_MM)
      say(
        'watch',
        ['holes', i],
        `Only ${mm(wall)} stand between hole ${i + 1} and the edge.`,
        `Keep ${mm(LEAST_WALL_MM)} or more.`,
      );
    spec.holes.slice(0, i).forEach((other, k) => {
      const meet = (['face', 'underside'] as const).some((on) => {
        const x = (h: WedgeHole): number => (on === 'face' ? holeOnFace(spec, h) : h.xMm);
        const apart = Math.hypot(x(hole) - x(other), hole.yMm - other.yMm);
        return apart <= (hole.diameterMm + other.diameterMm) / 2 / cos(toRad(angleDeg)) + 1e-6;
      });
      if (meet)
        say('fails', ['holes', i], `Holes ${k + 1} and ${i + 1} run into each other.`, 'Space them further apart.');
    });
  });
  if (thinMm < LEAST_WALL_MM)
    say(
      'watch',
      ['thinMm'],
      `The thin end is ${mm(thinMm)}: it will chip or crush.`,
      `Keep ${mm(LEAST_WALL_MM)} or more.`,
    );
  return issues;
}

/** Throws a LidwrightError with everything that keeps the wedge from being made. */
export function requireWedge(spec: WedgeSpec): void {
  const [first, ...also] = checkWedge(spec).filter((issue) => issue.severity === 'fails');
  if (first) throw new LidwrightError(first, also);
}

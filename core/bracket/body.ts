/*
 * What follows from a bracket's description at once: its legs, where they lie along the blank, its outline, holes, plates and the stud's place.
 * Checks nothing: see `checkBracket`.
 */
import { type Vec3, add, atan2, cos, rad, scale, sin, tan, toRad } from '../space';
import { bendAllowanceMm, din6935Factor } from './bend';
import { type Contour, type Corner, type Point2, roundedPolygon } from './contour';
import { KINDS, type Plate } from './kinds';
import type { Blank, BlankHole, BracketSpec, PlacedHole } from './types';

type OfKind = Pick<BracketSpec, 'kind'>;

/** Bent kinds have an upright and an inside radius. */
export const isBent = ({ kind }: OfKind): boolean => KINDS[kind].legs.length > 1;

/** A pin through two uprights holds the joint between them. */
export const isPinned = ({ kind }: OfKind): boolean => KINDS[kind].holds === 'pin';

/** Plates welded into the open angle. */
export const platesOf = (spec: BracketSpec): readonly Plate[] => KINDS[spec.kind].plates?.(spec) ?? [];

/** What the bend takes of a leg, mm: outside radius, for 90°. */
export const bendTakesMm = (spec: BracketSpec): number => (isBent(spec) ? spec.insideRadiusMm + spec.thicknessMm : 0);

/** One end of a leg's flat: half its width, and the rounding of its corners. */
interface LegEnd {
  readonly halfMm: number;
  readonly radiusMm: number;
}

/** The flat of a leg, between its bends. Lower and upper as in the blank. */
export interface Leg {
  readonly lower: LegEnd;
  readonly upper: LegEnd;
  readonly flatMm: number;
}

/** The legs in the order of the blank. A free end of the base is the free end; every other end carries the stud. */
export function legsOf(spec: BracketSpec): Leg[] {
  const { legs } = KINDS[spec.kind];
  const bend: LegEnd = { halfMm: spec.baseWidthMm / 2, radiusMm: 0 };
  const free: LegEnd = { halfMm: spec.baseWidthMm / 2, radiusMm: spec.baseCornerRadiusMm };
  const stud: LegEnd = { halfMm: spec.topWidthMm / 2, radiusMm: spec.topCornerRadiusMm };
  return legs.map((leg, i): Leg => {
    const [first, last] = [i === 0, i === legs.length - 1];
    const bends = Number(!first) + Number(!last);
    return {
      lower: !first ? bend : leg === 'base' ? free : stud,
      upper: last ? stud : bend,
      flatMm: (leg === 'base' ? spec.baseLegMm : spec.uprightLegMm) - bends * bendTakesMm(spec),
    };
  });
}

/** Which leg lies on the mount. */
export const baseIndex = ({ kind }: OfKind): number => KINDS[kind].legs.indexOf('base');

/** How far a leg's side turns into the edge at its lower and its upper end, rad: 90° for straight sides. */
export function turnsRad({ lower, upper, flatMm }: Leg): { readonly lower: number; readonly upper: number } {
  const slant = atan2(lower.halfMm - upper.halfMm, flatMm);
  return { lower: Math.PI / 2 + slant, upper: Math.PI / 2 - slant };
}

/** A bend's zone along the blank, between its two tangent lines. */
export interface BendZone {
  readonly id: string;
  readonly startMm: number;
  readonly endMm: number;
}

/** Where things lie along the body's blank, mm from its lower end: 90° bends by DIN 6935. */
export interface BodyLayout {
  readonly k: number;
  readonly neutralDepthMm: number;
  readonly allowanceMm: number;
  /** The bend of the upright that carries the stud comes last. Empty for plates. */
  readonly bends: readonly BendZone[];
  /** Where the flat of each leg begins and ends. */
  readonly flats: readonly (readonly [from: number, to: number])[];
  readonly baseFlat: readonly [number, number];
  /** Where the outer end of the base leg would lie were the base drawn on straight: a fixing lies at this + fromEndMm. */
  readonly baseEndMm: number;
  readonly lengthMm: number;
}

/** Flat lengths of the legs and bends of the unfolded body, mm along the blank. Bends by DIN 6935, see bend.ts. */
export function bodyLayout(spec: BracketSpec): BodyLayout {
  const bent = isBent(spec);
  const k = bent ? din6935Factor(spec.insideRadiusMm, spec.thicknessMm) : 1;
  const neutralDepthMm = bent ? (k * spec.thicknessMm) / 2 : 0;
  const allowanceMm = bent ? bendAllowanceMm(rad(Math.PI / 2), spec.insideRadiusMm, neutralDepthMm) : 0;
  const flats: [number, number][] = [];
  for (const { flatMm } of legsOf(spec)) {
    const from = flats.length > 0 ? flats.at(-1)![1] + allowanceMm : 0;
    flats.push([from, from + flatMm]);
  }
  const base = baseIndex(spec);
  const bends = flats.slice(1).map(([endMm], i): BendZone => ({
    id: flats.length === 2 ? 'bend' : i < base ? 'bend-far' : 'bend-near',
    startMm: flats[i]![1],
    endMm,
  }));
  const baseFlat = flats[base]!;
  return {
    ...{ k, neutralDepthMm, allowanceMm, bends, flats, baseFlat },
    baseEndMm: base > 0 ? baseFlat[0] - bendTakesMm(spec) : 0,
    lengthMm: flats.at(-1)![1],
  };
}

/** The outline that is even about a centre line, by the corners of its right side from below. */
export function evenOutline(right: readonly Corner[]): Contour {
  const left = right.map(({ at: [x, y], radiusMm }): Corner => ({ at: [-x, y], radiusMm }));
  return roundedPolygon([left[0]!, ...right, ...left.slice(1).reverse()]);
}

const corner = ({ halfMm, radiusMm }: LegEnd, y: number): Corner => ({ at: [halfMm, y], radiusMm });

/** The outline of the blank of one leg, or of the whole body: across from the centre line, and along from its lower end. */
export function legOutline(spec: BracketSpec, layout: BodyLayout, i: number): Contour {
  const leg = legsOf(spec)[i]!;
  return evenOutline([corner(leg.lower, layout.flats[i]![0]), corner(leg.upper, layout.flats[i]![1])]);
}

/** The whole unfolded body: across from its centre line, along the blank, mm. Closed, counter-clockwise. */
export function bodyOutline(spec: BracketSpec, layout: BodyLayout): Contour {
  return evenOutline(
    legsOf(spec).flatMap((leg, i) => [corner(leg.lower, layout.flats[i]![0]), corner(leg.upper, layout.flats[i]![1])]),
  );
}

/** The upright seen from where the stud stands out: across from the centre line towards +y, and up. */
export function foldedFront(spec: BracketSpec): Contour {
  const leg = legsOf(spec).at(-1)!;
  const foot = { halfMm: leg.lower.halfMm, radiusMm: 0 };
  return evenOutline([corner(foot, 0), corner(foot, bendTakesMm(spec)), corner(leg.upper, spec.uprightLegMm)]);
}

/** A bent kind's base as it lies on the mount: across, and from the foot of the stud's upright towards −x. */
export function baseOutline(spec: BracketSpec): Contour {
  const { lower } = legsOf(spec)[baseIndex(spec)]!;
  return evenOutline([corner({ halfMm: lower.halfMm, radiusMm: 0 }, 0), corner(lower, spec.baseLegMm)]);
}

/** Rise of a leaning top over a millimetre, in the blank's coordinates; null where it does not lean. */
export function leanOf(spec: BracketSpec): Blank['lean'] {
  if (!spec.wedge) return null;
  const rise = tan(toRad(spec.wedge.tiltDeg));
  const way = toRad(spec.wedge.directionDeg);
  // the blank's first axis runs towards −y
  const slope: Point2 = [-rise * sin(way), rise * cos(way)];
  const [half, topHalf, length] = [spec.baseWidthMm / 2, spec.topWidthMm / 2, spec.baseLegMm];
  const corners: Point2[] = [
    [-half, 0],
    [half, 0],
    [topHalf, length],
    [-topHalf, length],
  ];
  const least = Math.min(...corners.map((c) => c[0] * slope[0] + c[1] * slope[1]));
  return { atOriginMm: spec.thicknessMm - least, slope };
}

/** Upright thickness of the body at a place of its blank, mm. */
export const thicknessAtMm = (spec: BracketSpec, lean: Blank['lean'], at: Point2): number =>
  lean ? lean.atOriginMm + lean.slope[0] * at[0] + lean.slope[1] * at[1] : spec.thicknessMm;

/** Unit normal of a leaning top in the bracket frame; straight up where it does not lean. */
export function topNormal(spec: BracketSpec): Vec3 {
  if (!spec.wedge) return [0, 0, 1];
  const tilt = toRad(spec.wedge.tiltDeg);
  const way = toRad(spec.wedge.directionDeg);
  return [0 - sin(tilt) * cos(way), 0 - sin(tilt) * sin(way), cos(tilt)];
}

/** Whether the stud's hole is askew to the underside. */
export const leans = (spec: BracketSpec): boolean => topNormal(spec)[2] <= 1 - 1e-12;

/** Distance from the free end of the fixed leg to the origin of the bracket frame, mm. */
export const originFromEndMm = (spec: BracketSpec): number =>
  isBent(spec) ? spec.baseLegMm : spec.baseLegMm - spec.studHole.fromEndMm;

/** A place of a flat plate's blank in the bracket frame. */
export const outOfPlan = (spec: BracketSpec, [u, v]: Point2, z: number): Vec3 => [
  v - originFromEndMm(spec),
  -u - spec.studHole.acrossMm,
  z,
];

/** The place of the stud in the blank, seen as in `Blank`; of a pin: in the last upright. */
function studInBlank({ kind, studHole, uprightLegMm }: BracketSpec, { lengthMm }: BodyLayout): Point2 {
  const fromTop = isBent({ kind }) ? uprightLegMm - studHole.heightMm : studHole.fromEndMm;
  return [0 - studHole.acrossMm, lengthMm - fromTop];
}

/** Length of the stud's hole along its axis, mm. */
export function studDepthMm(spec: BracketSpec): number {
  if (!spec.wedge) return spec.thicknessMm;
  return thicknessAtMm(spec, leanOf(spec), studInBlank(spec, bodyLayout(spec))) * topNormal(spec)[2];
}

/** Holes of the body's blank, fixings first. */
export function bodyHoles(spec: BracketSpec, layout: BodyLayout): BlankHole[] {
  const fixings = spec.fixings.map((f): BlankHole => ({
    id: f.id,
    role: 'fixing',
    centre: [0 - f.acrossMm, layout.baseEndMm + f.fromEndMm],
    diameterMm: f.diameterMm,
    slotMm: f.slotMm,
    // along the bracket is the blank's second axis, +y its first axis backwards
    slotRad: toRad(f.slotDeg + 90),
  }));
  const centre = studInBlank(spec, layout);
  const round = { diameterMm: spec.studHole.diameterMm, slotMm: 0, slotRad: rad(0) };
  if (!isPinned(spec)) return [...fixings, { id: 'stud', role: 'stud', centre, ...round }];
  return [
    ...fixings,
    { id: 'pin-near', role: 'pin', centre, ...round },
    { id: 'pin-far', role: 'pin', centre: [centre[0], layout.lengthMm - centre[1]], ...round },
  ];
}

/** Direction of the stem in the bracket frame, unit: from the stud's root to the ball; a pin's axis. */
export function stemOfBracket(spec: BracketSpec): Vec3 {
  if (isPinned(spec)) return [1, 0, 0];
  const inside = spec.ballSide === 'inside';
  if (isBent(spec)) return [inside ? -1 : 1, 0, 0];
  return inside && !spec.wedge ? [0, 0, -1] : topNormal(spec);
}

/** The stud's hole, or the two holes of a pin, the near one first. */
function studHoles(spec: BracketSpec): PlacedHole[] {
  const { thicknessMm, baseLegMm, ballSide } = spec;
  const { diameterMm, heightMm: h } = spec.studHole;
  const common = { diameterMm, slotMm: 0, slotAxis: [0, 1, 0] as Vec3, thicknessMm };
  if (isPinned(spec))
    return [
      { id: 'pin-near', role: 'pin', ...common, centreMm: [0 - thicknessMm, 0, h], axis: [-1, 0, 0] },
      { id: 'pin-far', role: 'pin', ...common, centreMm: [thicknessMm - baseLegMm, 0, h], axis: [1, 0, 0] },
    ];
  const axis = stemOfBracket(spec);
  const stud = { id: 'stud', role: 'stud', ...common, axis } as const;
  if (isBent(spec)) return [{ ...stud, centreMm: [ballSide === 'inside' ? -thicknessMm : 0, 0, h] }];
  if (axis[2] < 0) return [{ ...stud, centreMm: [0, 0, 0] }];
  // square to a leaning axis: y turned into the leaning face
  const flat = Math.hypot(axis[0], axis[1]);
  const slotAxis: Vec3 = flat < 1e-12 ? [0, 1, 0] : [-axis[1] / flat, axis[0] / flat, 0];
  const deep = studDepthMm(spec);
  return [{ ...stud, centreMm: scale(axis, deep), slotAxis, thicknessMm: deep }];
}

/** Where the ball's centre (with a pin: the middle of the joint) lies in the bracket frame, mm. */
export function ballAt(spec: BracketSpec): Vec3 {
  const { centreMm, axis } = studHoles(spec)[0]!;
  return add(centreMm, scale(axis, spec.ballOffsetMm));
}

/** All holes of the finished bracket in the bracket frame, fixings first, in the order of the spec. Lengths mm. */
export function holesOf(spec: BracketSpec): PlacedHole[] {
  const lean = leanOf(spec);
  const fixings = spec.fixings.map((f): PlacedHole => {
    const way = toRad(f.slotDeg);
    return {
      id: f.id,
      role: 'fixing',
      centreMm: outOfPlan(spec, [-f.acrossMm, f.fromEndMm], 0),
      axis: [0, 0, 1],
      diameterMm: f.diameterMm,
      slotMm: f.slotMm,
      slotAxis: [cos(way), sin(way), 0],
      thicknessMm: thicknessAtMm(spec, lean, [-f.acrossMm, f.fromEndMm]),
    };
  });
  return [...fixings, ...studHoles(spec)];
}

import type { EndName } from '../job';
import { cos, sin, toRad } from '../space';
import { wrapDeg } from './azimuth';
import type { Fitting } from './fittings';
import { type WedgeHole, type WedgeSpec, thicknessAt } from './wedge-spec';

/** The wedge that gives a stem its tilt: how steep, and the azimuth toward which it gets thicker. Degrees. @internal for tests */
export const wedgeOfTilt = (azimuthDeg: number, tiltDeg: number): { angleDeg: number; thickAzimuthDeg: number } => ({
  angleDeg: Math.abs(tiltDeg),
  // a stem that leans away from the surface has the thick end under it
  thickAzimuthDeg: wrapDeg(tiltDeg >= 0 ? azimuthDeg : azimuthDeg + 180),
});

/** Where a hole square to the face must meet the underside to come out at xMm on the face (both in plan), mm. */
export function undersideOf(spec: Pick<WedgeSpec, 'angleDeg' | 'thinMm'>, lengthMm: number, xFaceMm: number): number {
  const [s, c] = [sin(toRad(spec.angleDeg)), cos(toRad(spec.angleDeg))];
  return (xFaceMm + spec.thinMm * s * c + (lengthMm / 2) * s * s) / (c * c);
}

type Common = Pick<WedgeSpec, 'id' | 'name' | 'thinMm' | 'material'>;

/** A bent bracket as far as a wedge under it needs it, mm: holes from its centre line and from its free end. */
export interface UnderBracket {
  readonly baseLegMm: number;
  readonly baseWidthMm: number;
  readonly fixings: readonly { readonly acrossMm: number; readonly fromEndMm: number; readonly diameterMm: number }[];
}

/**
 * The wedge under a bent bracket whose stem leans by `tiltDeg`: as wide as its base, its face as long as its base leg, its
 * holes under the bracket's and square to the face. Lengths mm. Check it with checkWedge: a tilt of 0 makes none.
 */
export function wedgeUnderBracket(tiltDeg: number, bracket: UnderBracket, common: Common): WedgeSpec {
  const angleDeg = Math.abs(tiltDeg);
  const lengthMm = bracket.baseLegMm * cos(toRad(angleDeg));
  // the stem leaves on the upright's side, away from the base leg's free end: thick there when it leans up
  const way = tiltDeg >= 0 ? 1 : -1;
  const hole = ({ acrossMm, fromEndMm, diameterMm }: UnderBracket['fixings'][number]): WedgeHole => {
    const along = way * (fromEndMm - bracket.baseLegMm / 2) * cos(toRad(angleDeg));
    // turned round under the bracket, its own left is the bracket's right
    return { xMm: undersideOf({ angleDeg, thinMm: common.thinMm }, lengthMm, along), yMm: way * acrossMm, diameterMm };
  };
  return {
    ...common,
    angleDeg,
    footprint: { kind: 'rectangle', lengthMm, widthMm: bracket.baseWidthMm },
    squareTo: 'face',
    holes: bracket.fixings.map(hole),
  };
}

/**
 * A round wedge under a ball stud that stands out of its surface and leans by `leanDeg` from its normal (90° less its tilt): a
 * clearance hole of `holeMm` square to the face, its middle in the middle of the face. Twice the socket's head across where
 * the fitting has a size, so that the shoulder seats on it all round. Lengths mm.
 * @internal for tests
 */
export function wedgeUnderStud(
  leanDeg: number,
  holeMm: number,
  fitting: Fitting | undefined,
  common: Common,
): WedgeSpec {
  const angleDeg = Math.abs(leanDeg);
  const diameterMm = Math.ceil(Math.max(3 * holeMm, 4 * (fitting?.headRadiusMm?.value ?? 0)));
  return {
    ...common,
    angleDeg,
    footprint: { kind: 'round', diameterMm },
    squareTo: 'face',
    holes: [{ xMm: undersideOf({ angleDeg, thinMm: common.thinMm }, diameterMm, 0), yMm: 0, diameterMm: holeMm }],
  };
}

/** What is typed of a wedge under an end that leans, mm: all of it where a stud stands on it, under a bracket only how thin it is. */
export interface TypedWedge {
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly thinMm: number;
  readonly holeMm: number;
}

/** Sizes usual for a wedge, mm. */
export const USUAL_WEDGE: TypedWedge = { lengthMm: 50, widthMm: 40, thinMm: 3, holeMm: 8.4 };

/** The wedge, in aluminium, under an end that leans by `tiltDeg`: under its bracket, or as typed with a stud's hole in its middle. */
export function wedgeUnderEnd(
  end: EndName,
  tiltDeg: number,
  bracket: UnderBracket | null,
  typed: TypedWedge,
): WedgeSpec {
  const common = {
    id: `wedge-${end}`,
    name: `Mount wedge, ${end} end`,
    thinMm: typed.thinMm,
    material: { name: 'Aluminium', densityKgM3: 2700 },
  };
  if (bracket) return wedgeUnderBracket(tiltDeg, bracket, common);
  return {
    ...common,
    angleDeg: Math.abs(tiltDeg),
    footprint: { kind: 'rectangle', lengthMm: typed.lengthMm, widthMm: typed.widthMm },
    squareTo: 'face',
    holes: [{ xMm: 0, yMm: 0, diameterMm: typed.holeMm }],
  };
}

/** How far a wedge lifts what stands over the middle of its footprint, mm: the ball's own place moves by as much. @internal for tests */
export const liftMm = (spec: WedgeSpec): number => thicknessAt(spec, 0);

import type { BracketKind, FixedInto } from '../job';
import type { Rad, Vec3 } from '../space';
import type { Contour, Point2 } from './contour';
import type { LaidHole } from './pattern';
import type { ThreadName } from './tables';

/**
 * One hole through the fixed leg: across from the centre line (y), from the leg's free end (channel: from the outer face of the
 * upright at −x); slot 0 is a round hole. slotDeg 0 runs along the bracket (x), 90 across it (y). Lengths mm.
 */
export type Fixing = LaidHole;

/** A job's bracket with every default in place and its pattern laid out as holes. Lengths mm, angles degrees, forces N. */
export interface BracketSpec {
  readonly id: string;
  readonly name: string;
  readonly kind: BracketKind;
  /** Bought ready-made: its stud is set in the plate by its maker. */
  readonly bought: boolean;
  readonly thicknessMm: number;
  /** 0 for kinds without a bend. */
  readonly insideRadiusMm: number;
  /** Channel: follows from the gap, gap + 2 thicknesses. */
  readonly baseLegMm: number;
  /** 0 for kinds without an upright. */
  readonly uprightLegMm: number;
  readonly baseWidthMm: number;
  readonly topWidthMm: number;
  readonly baseCornerRadiusMm: number;
  readonly topCornerRadiusMm: number;
  /** 0 to 6; none only when welded. */
  readonly fixings: readonly Fixing[];
  /** The fixings come from the job's pattern (baseHole), not from single holes. */
  readonly patterned: boolean;
  readonly attachedBy: 'bolts' | 'weld' | 'both';
  readonly into: FixedInto;
  /** As the job says, else the largest that goes through the hole; null where none does. */
  readonly fixingThread: ThreadName | null;
  readonly studThread: ThreadName | null;
  /** heightMm: bent kinds. fromEndMm: tab and wedge plate. The other is 0. */
  readonly studHole: {
    readonly diameterMm: number;
    readonly heightMm: number;
    readonly fromEndMm: number;
    readonly acrossMm: number;
  };
  /** From the face the stud stands on to the ball's centre; channel: half the gap. */
  readonly ballOffsetMm: number;
  readonly ballSide: 'outside' | 'inside';
  /** Channel only, else 0. */
  readonly gapMm: number;
  readonly gusset: {
    readonly thicknessMm: number;
    readonly alongMm: number;
    readonly upMm: number;
    readonly count: 1 | 2;
    readonly acrossMm: number;
    readonly weldThroatMm: number;
  } | null;
  readonly wedge: { readonly tiltDeg: number; readonly directionDeg: number } | null;
  readonly material: { readonly name: string; readonly densityKgM3: number };
}

/**
 * A hole in a blank, as cut: a slot's ends are slotMm apart, centre to centre, along slotRad from the blank's first axis. The stud's
 * hole of a wedge plate stands square to the leaning top: `centre` is where its axis meets the underside.
 */
export interface BlankHole {
  readonly id: string;
  readonly role: 'fixing' | 'stud' | 'pin';
  readonly centre: Point2;
  readonly diameterMm: number;
  readonly slotMm: number;
  readonly slotRad: Rad;
}

/** One bend of a blank. The zone between the two tangent lines is `allowanceMm` wide, symmetric about the bend line. */
export interface BlankBend {
  readonly id: string;
  /** Ends of the bend's middle line on the blank. */
  readonly from: Point2;
  readonly to: Point2;
  readonly insideRadiusMm: number;
  /** Bent through this; up: towards the side that is seen in the blank's own view. */
  readonly angleDeg: number;
  readonly up: boolean;
  /** 1 is bent first. */
  readonly order: number;
  readonly allowanceMm: number;
  /** DIN 6935. */
  readonly k: number;
  readonly neutralDepthMm: number;
}

/**
 * One piece of sheet or plate to be cut. The side seen is the inside of the bends (tab and wedge plate: the top). Coordinates mm:
 * [across from the centre line, along from the base leg's free end; channel: from the top of the upright at −x]. Seen so, the first axis
 * runs towards −y of the bracket frame: a hole at acrossMm lies at −acrossMm. A gusset's blank: [along the base, up the upright], from the sharp
 * inner corner of the bend.
 */
export interface Blank {
  /** "body" or "gusset". */
  readonly id: string;
  readonly name: string;
  readonly quantity: number;
  readonly thicknessMm: number;
  readonly outline: Contour;
  readonly holes: readonly BlankHole[];
  /** Ids of the holes that are drilled in the bent part, so not cut: close to a bend, or a pin's two. */
  readonly afterBending: readonly string[];
  readonly bends: readonly BlankBend[];
  /** Wedge plate: thickness at a place of the blank, t = atOriginMm + slope·[first, second coordinate]; else null. */
  readonly lean: { readonly atOriginMm: number; readonly slope: Point2 } | null;
}

/** A hole of the finished bracket in the bracket frame. */
export interface PlacedHole {
  readonly id: string;
  readonly role: 'fixing' | 'stud' | 'pin';
  /** On the face it is drilled from: fixings on the mount's surface, studs on the face the ball stands on. */
  readonly centreMm: Vec3;
  /** Unit; fixings: out of the mount. Studs: towards the ball. */
  readonly axis: Vec3;
  readonly diameterMm: number;
  readonly slotMm: number;
  /** Unit, along the slot; any direction square to the axis for round holes. */
  readonly slotAxis: Vec3;
  readonly thicknessMm: number;
}

/*
 * The bracket frame, mm. Origin: on the mount's surface. Bent kinds: under the stud's axis, in the outer face of the upright that carries the
 * stud (channel: of the upright at +x). Tab and wedge plate: where the stud's axis meets the plate's underside.
 * x: along the bracket, away from the base leg; z: out of the mount; y = z × x. The base leg runs from the origin towards −x. The centre
 * line lies at y = −studHole.acrossMm.
 * The stem (unit, from the stud's root to the ball): bent kinds +x (inside: −x); channel +x (its pin's axis), its joint sits between the
 * uprights; flat tab +z (inside: −z, towards the mount, beside its edge); wedge plate: the leaning top's normal.
 * On its mount the bracket is turned so that its stem points over the azimuth the strut's end asks for (see place.ts).
 */

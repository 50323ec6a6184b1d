import { bendAllowanceMm, din6935Factor } from './bend';
import { type Contour, type Point2, roundedPolygon } from './contour';
import type { BracketSpec } from './kinds';
import { isBent } from './spec';

/** A bend's zone along the blank, between its two tangent lines. */
export interface BendZone {
  readonly id: string;
  readonly startMm: number;
  readonly endMm: number;
}

/** Where things lie along the body's blank, mm from its lower end. Checks nothing: see `checkBracket`. */
export interface BodyLayout {
  readonly k: number;
  readonly neutralDepthMm: number;
  readonly allowanceMm: number;
  /** The bend of the upright that carries the stud comes last. Empty for tab and wedge plate. */
  readonly bends: readonly BendZone[];
  /** Where the flat of the base leg begins and ends. */
  readonly baseFlat: readonly [number, number];
  /** Where the outer end of the base leg would lie were the base drawn on straight: a fixing lies at this + fromEndMm. */
  readonly baseEndMm: number;
  readonly lengthMm: number;
}

/** What the bend takes of a leg, mm: outside radius, for 90°. */
export const bendTakesMm = (spec: BracketSpec): number => (isBent(spec) ? spec.insideRadiusMm + spec.thicknessMm : 0);

/** The lengths of the body's blank: 90° bends by DIN 6935. */
export function bodyLayout(spec: BracketSpec): BodyLayout {
  if (!isBent(spec))
    return {
      ...{ k: 1, neutralDepthMm: 0, allowanceMm: 0, bends: [], baseEndMm: 0 },
      baseFlat: [0, spec.baseLegMm],
      lengthMm: spec.baseLegMm,
    };
  const takes = bendTakesMm(spec);
  const k = din6935Factor(spec.insideRadiusMm, spec.thicknessMm);
  const neutralDepthMm = (k * spec.thicknessMm) / 2;
  const allowanceMm = bendAllowanceMm(Math.PI / 2, spec.insideRadiusMm, neutralDepthMm);
  const straight = spec.uprightLegMm - takes;
  if (spec.kind === 'channel') {
    const baseFrom = straight + allowanceMm;
    const baseTo = baseFrom + spec.baseLegMm - 2 * takes;
    return {
      ...{ k, neutralDepthMm, allowanceMm },
      bends: [
        { id: 'bend-far', startMm: straight, endMm: baseFrom },
        { id: 'bend-near', startMm: baseTo, endMm: baseTo + allowanceMm },
      ],
      baseFlat: [baseFrom, baseTo],
      baseEndMm: baseFrom - takes,
      lengthMm: baseTo + allowanceMm + straight,
    };
  }
  const bendStartMm = spec.baseLegMm - takes;
  const bendEndMm = bendStartMm + allowanceMm;
  return {
    ...{ k, neutralDepthMm, allowanceMm },
    bends: [{ id: 'bend', startMm: bendStartMm, endMm: bendEndMm }],
    baseFlat: [0, bendStartMm],
    baseEndMm: 0,
    lengthMm: bendEndMm + straight,
  };
}

/** The two rounded corners of the stud's end when it lies at `toMm`, right side first. */
export function topCorners(spec: BracketSpec, toMm: number): { at: Point2; radiusMm: number }[] {
  return [
    { at: [spec.topWidthMm / 2, toMm], radiusMm: spec.topCornerRadiusMm },
    { at: [-spec.topWidthMm / 2, toMm], radiusMm: spec.topCornerRadiusMm },
  ];
}

/** The outline of the body's blank: across from the centre line, and along from its lower end. */
export function bodyOutline(spec: BracketSpec, layout: BodyLayout): Contour {
  const half = spec.baseWidthMm / 2;
  const last = layout.bends.at(-1);
  const sharp = (x: number, y: number): { at: Point2; radiusMm: number } => ({ at: [x, y], radiusMm: 0 });
  const top = topCorners(spec, layout.lengthMm);
  if (spec.kind === 'channel') {
    const first = layout.bends[0]!;
    return roundedPolygon([
      ...topCorners(spec, 0).reverse(),
      sharp(half, first.startMm),
      sharp(half, last!.endMm),
      ...top,
      sharp(-half, last!.endMm),
      sharp(-half, first.startMm),
    ]);
  }
  const base: { at: Point2; radiusMm: number }[] = [
    { at: [-half, 0], radiusMm: spec.baseCornerRadiusMm },
    { at: [half, 0], radiusMm: spec.baseCornerRadiusMm },
  ];
  if (!last) return roundedPolygon([...base, ...top]);
  return roundedPolygon([...base, sharp(half, last.endMm), ...top, sharp(-half, last.endMm)]);
}

/** How far the plate's side rises from where it begins to taper to the stud's end, mm: upright beyond its bend, or the whole plate. */
export const taperRiseMm = (spec: BracketSpec): number =>
  isBent(spec) ? spec.uprightLegMm - bendTakesMm(spec) : spec.baseLegMm;

/** How far a side turns into the edge at the stud's end, rad: 90° for straight sides, less for a taper inwards. */
export const topTurnRad = (spec: BracketSpec): number =>
  Math.PI / 2 - Math.atan2((spec.baseWidthMm - spec.topWidthMm) / 2, taperRiseMm(spec));

/** How far a side turns out of the free end's edge, rad: 90° for bent kinds, whose base leg is a rectangle. */
export const baseTurnRad = (spec: BracketSpec): number => (isBent(spec) ? Math.PI / 2 : Math.PI - topTurnRad(spec));

/** The place of the stud in the blank, seen as in `Blank`; channel: of the upright at +x. */
export function studInBlank(spec: BracketSpec, layout: BodyLayout): Point2 {
  const { acrossMm, fromEndMm, heightMm } = spec.studHole;
  return isBent(spec)
    ? [0 - acrossMm, layout.lengthMm - (spec.uprightLegMm - heightMm)]
    : [0 - acrossMm, layout.lengthMm - fromEndMm];
}

import { bendAllowanceMm, din6935Factor } from './bend';
import { type Contour, type Point2, roundedPolygon } from './contour';
import type { BentAngle } from './spec';

/** Where things lie along the blank, mm from the free end of the base leg. Checks nothing: see `checkBracket`. */
export interface BlankLayout {
  readonly k: number;
  readonly neutralDepthMm: number;
  readonly allowanceMm: number;
  readonly bendStartMm: number;
  readonly bendEndMm: number;
  readonly lengthMm: number;
  readonly studMm: number;
}

/** The lengths of the blank of a 90° bend. */
export function blankLayout(spec: BentAngle): BlankLayout {
  const outsideMm = spec.insideRadiusMm + spec.thicknessMm;
  const k = din6935Factor(spec.insideRadiusMm, spec.thicknessMm);
  const neutralDepthMm = (k * spec.thicknessMm) / 2;
  const allowanceMm = bendAllowanceMm(Math.PI / 2, spec.insideRadiusMm, neutralDepthMm);
  const bendStartMm = spec.baseLegMm - outsideMm;
  const bendEndMm = bendStartMm + allowanceMm;
  const lengthMm = bendEndMm + spec.uprightLegMm - outsideMm;
  return {
    k,
    neutralDepthMm,
    allowanceMm,
    bendStartMm,
    bendEndMm,
    lengthMm,
    studMm: lengthMm - (spec.uprightLegMm - spec.studHole.heightMm),
  };
}

/** The two rounded corners of the upright's top edge when it lies at `toMm`, right side first. */
export function topCorners(spec: BentAngle, toMm: number): { at: Point2; radiusMm: number }[] {
  return [
    { at: [spec.topWidthMm / 2, toMm], radiusMm: spec.topCornerRadiusMm },
    { at: [-spec.topWidthMm / 2, toMm], radiusMm: spec.topCornerRadiusMm },
  ];
}

/** The outline of the blank: across the width from the centre line, and along the blank from the base leg's free end. */
export function blankOutline(spec: BentAngle, layout: BlankLayout): Contour {
  const half = spec.baseWidthMm / 2;
  return roundedPolygon([
    { at: [-half, 0], radiusMm: spec.baseCornerRadiusMm },
    { at: [half, 0], radiusMm: spec.baseCornerRadiusMm },
    { at: [half, layout.bendEndMm], radiusMm: 0 },
    ...topCorners(spec, layout.lengthMm),
    { at: [-half, layout.bendEndMm], radiusMm: 0 },
  ]);
}

/** Centres of the two base holes and the stud hole in the blank. */
export function blankHoles(spec: BentAngle, layout: BlankLayout): { left: Point2; right: Point2; stud: Point2 } {
  const half = spec.baseHole.spacingMm / 2;
  return { left: [-half, spec.baseHole.fromEndMm], right: [half, spec.baseHole.fromEndMm], stud: [0, layout.studMm] };
}

/** How far the side of the upright turns into its top edge, rad: 90° for straight sides, less for a taper inwards. */
export function topTurnRad(spec: BentAngle): number {
  const rise = spec.uprightLegMm - spec.insideRadiusMm - spec.thicknessMm;
  return Math.PI / 2 - Math.atan2((spec.baseWidthMm - spec.topWidthMm) / 2, rise);
}

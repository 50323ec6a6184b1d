import { toRad, type Vec3 } from '../space';
import type { Point2 } from './contour';
import type { Blank, BracketSpec } from './kinds';

/** Rise of a wedge plate's top over a millimetre, in the blank's coordinates; null for other kinds. */
export function leanOf(spec: BracketSpec): Blank['lean'] {
  if (!spec.wedge) return null;
  const rise = Math.tan(toRad(spec.wedge.tiltDeg));
  const way = toRad(spec.wedge.directionDeg);
  // the blank's first axis runs towards −y
  const slope: Point2 = [-rise * Math.sin(way), rise * Math.cos(way)];
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

/** Unit normal of a wedge plate's top in the bracket frame; straight up for other kinds. */
export function topNormal(spec: BracketSpec): Vec3 {
  if (!spec.wedge) return [0, 0, 1];
  const tilt = toRad(spec.wedge.tiltDeg);
  const way = toRad(spec.wedge.directionDeg);
  return [0 - Math.sin(tilt) * Math.cos(way), 0 - Math.sin(tilt) * Math.sin(way), Math.cos(tilt)];
}

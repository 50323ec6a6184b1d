import { requireMakeable } from './check';
import { type Contour, contourAreaMm2, roundedPolygon } from './contour';
import { topCorners } from './layout';
import type { BentAngle } from './spec';

/**
 * The bent section seen along the bend, in the bracket frame: [x, z] mm, x out of the upright's outer face, z out of the
 * mount. Closed, counter-clockwise. Throws a LidwrightError when the bracket cannot be made.
 */
export function foldedProfile(spec: BentAngle): Contour {
  requireMakeable(spec);
  const { thicknessMm: t, insideRadiusMm: r, baseLegMm: a, uprightLegMm: b } = spec;
  return roundedPolygon([
    { at: [-a, 0], radiusMm: 0 },
    { at: [0, 0], radiusMm: r + t },
    { at: [0, b], radiusMm: 0 },
    { at: [-t, b], radiusMm: 0 },
    { at: [-t, t], radiusMm: r },
    { at: [-a, t], radiusMm: 0 },
  ]);
}

/**
 * The bracket seen from the ball, straight at the upright's outer face: [y, z] mm in the bracket frame. Closed,
 * counter-clockwise. Throws a LidwrightError when the bracket cannot be made.
 */
export function foldedFront(spec: BentAngle): Contour {
  requireMakeable(spec);
  const half = spec.baseWidthMm / 2;
  const bend = spec.insideRadiusMm + spec.thicknessMm;
  return roundedPolygon([
    { at: [-half, 0], radiusMm: 0 },
    { at: [half, 0], radiusMm: 0 },
    { at: [half, bend], radiusMm: 0 },
    ...topCorners(spec, spec.uprightLegMm),
    { at: [-half, bend], radiusMm: 0 },
  ]);
}

/**
 * Volume of the bent part as drawn, mm³: legs less holes, and a bend of even thickness. It differs from blank area times
 * thickness only by the bend, whose middle lies at t/2 while its neutral axis lies at k·t/2.
 */
export function foldedVolumeMm3(spec: BentAngle): number {
  requireMakeable(spec);
  const { thicknessMm: t, insideRadiusMm: r } = spec;
  const half = spec.baseWidthMm / 2;
  const straight = spec.baseLegMm - r - t;
  const base = roundedPolygon([
    { at: [-half, 0], radiusMm: spec.baseCornerRadiusMm },
    { at: [half, 0], radiusMm: spec.baseCornerRadiusMm },
    { at: [half, straight], radiusMm: 0 },
    { at: [-half, straight], radiusMm: 0 },
  ]);
  const upright = roundedPolygon([
    { at: [-half, 0], radiusMm: 0 },
    { at: [half, 0], radiusMm: 0 },
    ...topCorners(spec, spec.uprightLegMm - r - t),
  ]);
  const bend = 2 * half * (Math.PI / 4) * ((r + t) ** 2 - r ** 2);
  const holes = (Math.PI / 4) * (2 * spec.baseHole.diameterMm ** 2 + spec.studHole.diameterMm ** 2);
  return (contourAreaMm2(base) + contourAreaMm2(upright) - holes) * t + bend;
}

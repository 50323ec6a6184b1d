import { type Vec3, acos, atan2, sin, toRad } from '../space';

/**
 * Directions in a view within which a strut may lie so that its joint stays in range: the strut keeps its present slope
 * out of the view and turns within it. `stem` and `strut` are unit vectors in the view's own axes: right, up, and the one
 * it looks along. Angles are rad, anticlockwise from right. Null: every direction is allowed; empty: none is.
 * From stem · strut = sin of the deviation, solved for the strut's angle in the view.
 */
export function allowedSectors(stem: Vec3, strut: Vec3, rangeDeg: number): [number, number][] | null {
  const limit = sin(toRad(rangeDeg));
  const away = strut[2] * stem[2];
  const reach = Math.hypot(stem[0], stem[1]) * Math.hypot(strut[0], strut[1]);
  if (reach < 1e-9) return Math.abs(away) <= limit ? null : [];
  const low = (-limit - away) / reach;
  const high = (limit - away) / reach;
  if (low <= -1 && high >= 1) return null;
  if (low > 1 || high < -1) return [];
  const middle = atan2(stem[1], stem[0]);
  const near = acos(Math.min(1, high));
  const far = acos(Math.max(-1, low));
  return [
    [middle + near, middle + far],
    [middle - far, middle - near],
  ];
}

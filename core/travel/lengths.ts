import { cos, sin, toDeg, toRad } from '../space';
import { type LengthLaw, deadCentres } from './pose';

/** Length between the pivots at an opening angle, mm. */
export const lengthAt = ({ p, q, k }: LengthLaw, angleDeg: number): number =>
  Math.sqrt(Math.max(0, k + p * cos(toRad(angleDeg)) + q * sin(toRad(angleDeg))));

/** Shortest and longest length from closed to `openDeg`, mm, and where: exact, at the ends or a dead centre. */
export function lengthRange(
  law: LengthLaw,
  openDeg: number,
): {
  readonly shortestMm: number;
  readonly shortestDeg: number;
  readonly longestMm: number;
  readonly longestDeg: number;
} {
  let [shortestMm, shortestDeg, longestMm, longestDeg] = [Infinity, 0, -Infinity, 0];
  for (const at of [0, openDeg, ...deadCentres(law).map(toDeg)]) {
    if (at > openDeg) continue;
    const mm = lengthAt(law, at);
    if (mm < shortestMm) [shortestMm, shortestDeg] = [mm, at];
    if (mm > longestMm) [longestMm, longestDeg] = [mm, at];
  }
  return { shortestMm, shortestDeg, longestMm, longestDeg };
}

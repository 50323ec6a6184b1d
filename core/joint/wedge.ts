import { type Rad, type Vec3, cos, rad, toDeg, toRad } from '../space';
import { wrapDeg } from './azimuth';
import { type Mount, azimuthAndTilt, stemFromMount } from './stem';
import { type Swing, type Worst, worstDeviation } from './swing';

/** A wedge under a joint. Degrees. */
export interface Wedge {
  readonly angleDeg: number;
  /** Azimuth on the mount toward which it gets thicker; 0 for no wedge. */
  readonly thickAzimuthDeg: number;
  /** How far the joint is turned on the mount besides. */
  readonly turnDeg: number;
}

/**
 * The least wedge that brings a stem to another where the joint may be turned on its mount as well: the turn takes the
 * azimuth, the wedge the lean. A stem that must lean away from the surface needs the thick end under it.
 */
export function wedgeWithTurn(mount: Mount, present: Vec3, wanted: Vec3): Wedge {
  const from = azimuthAndTilt(mount, present);
  const to = azimuthAndTilt(mount, wanted);
  const lean = toDeg(rad(to.tiltRad - from.tiltRad));
  // a stem along the normal has no azimuth of its own: there is nothing to turn
  const upright = Math.abs(cos(from.tiltRad)) < 1e-9;
  const azimuthDeg = toDeg(to.azimuthRad);
  return {
    angleDeg: Math.abs(lean),
    thickAzimuthDeg: Math.abs(lean) < 1e-12 ? 0 : wrapDeg(lean > 0 ? azimuthDeg : azimuthDeg + 180),
    turnDeg: upright ? 0 : wrapDeg(azimuthDeg - toDeg(from.azimuthRad)),
  };
}

/** Azimuth and tilt of a stem rounded to what a workshop can set, and what that costs. Degrees. */
export interface RoundedStem {
  readonly azimuthDeg: number;
  readonly tiltDeg: number;
  readonly stem: Vec3;
  readonly deviationDeg: number;
  /** How much further off square than the stem before rounding. */
  readonly costDeg: number;
}

/**
 * The best stem among those of whole `stepDeg` in azimuth and tilt round the one given: the four neighbours and one step
 * further each way are tried against the whole travel. `off` says how far off a stem gets; square joints by default.
 */
export function roundStem(
  swing: Swing,
  mount: Mount,
  stem: Vec3,
  stepDeg: number,
  off: (swing: Swing, stem: Vec3) => Worst = worstDeviation,
): RoundedStem {
  const { azimuthRad, tiltRad } = azimuthAndTilt(mount, stem);
  const whole = (angle: Rad): number => Math.floor(toDeg(angle) / stepDeg + 1e-9) * stepDeg;
  const exact = off(swing, stem).deviationDeg;
  let best: RoundedStem | null = null;
  for (let i = -1; i <= 2; i++)
    for (let k = -1; k <= 2; k++) {
      const tiltDeg = whole(tiltRad) + k * stepDeg;
      if (Math.abs(tiltDeg) > 90) continue;
      const azimuthDeg = wrapDeg(whole(azimuthRad) + i * stepDeg);
      const tried = stemFromMount(mount, toRad(azimuthDeg), toRad(tiltDeg));
      const { deviationDeg } = off(swing, tried);
      if (!best || deviationDeg < best.deviationDeg - 1e-12)
        best = { azimuthDeg, tiltDeg, stem: tried, deviationDeg, costDeg: deviationDeg - exact };
    }
  return best!;
}

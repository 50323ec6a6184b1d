import { fail } from '../error';
import {
  type Rad,
  type Vec3,
  add,
  atan2,
  cos,
  cross,
  dot,
  norm,
  perpendicularTo,
  rad,
  scale,
  sin,
  unit,
} from '../space';

/** The surface a joint is fixed to: outward normal and reference direction, any length, in its own body's axes. */
export interface Mount {
  readonly normal: Vec3;
  readonly reference: Vec3;
}

/** The mount's right-handed unit frame: reference e (made ⟂ to the normal), side m × e, normal m. */
export interface MountFrame {
  readonly e: Vec3;
  readonly side: Vec3;
  readonly m: Vec3;
}

/** Throws a LidwrightError when the normal has no length or the reference stands along it. */
export function mountFrame(mount: Mount): MountFrame {
  if (!(norm(mount.normal) > 0))
    return fail(
      'the mount has a normal of no length',
      ['normal'],
      'Give the direction that points out of the surface.',
    );
  const m = unit(mount.normal);
  const lying = perpendicularTo(mount.reference, m);
  // A reference within about 0.0001° of the normal says nothing about a direction in the surface.
  if (!(norm(lying) > 2e-6 * norm(mount.reference)))
    return fail(
      'the mount’s reference direction stands along its normal',
      ['reference'],
      'Give a direction that lies in the surface, such as along the hinge.',
    );
  const e = unit(lying);
  return { e, side: cross(m, e), m };
}

/**
 * Stem direction (unit) from azimuth ψ about the normal and tilt τ from the surface:
 * n = cos τ·(cos ψ·e + sin ψ·(m × e)) + sin τ·m.
 */
export function stemFromMount(mount: Mount, azimuthRad: Rad, tiltRad: Rad): Vec3 {
  const { e, side, m } = mountFrame(mount);
  const flat = add(scale(e, cos(azimuthRad)), scale(side, sin(azimuthRad)));
  return unit(add(scale(flat, cos(tiltRad)), scale(m, sin(tiltRad))));
}

/** Azimuth and tilt, rad, of a stem on a mount: the inverse of stemFromMount. A stem along the normal has azimuth 0. */
export function azimuthAndTilt(mount: Mount, stem: Vec3): { azimuthRad: Rad; tiltRad: Rad } {
  const { e, side, m } = mountFrame(mount);
  const n = unit(stem);
  const inPlane = Math.hypot(dot(n, e), dot(n, side));
  return {
    azimuthRad: inPlane < 1e-12 ? rad(0) : atan2(dot(n, side), dot(n, e)),
    tiltRad: atan2(dot(n, m), inPlane),
  };
}

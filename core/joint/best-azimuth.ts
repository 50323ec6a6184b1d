import { type Vec3, toDeg, toRad } from '../space';
import { type Mount, mountFrame } from './stem';

/** The azimuth that keeps a joint nearest to square over the travel, and how far off it still gets. */
export interface BestAzimuth {
  readonly azimuthDeg: number;
  /** Largest |90° − φ| over the travel, degrees. */
  readonly deviationDeg: number;
}

const COARSE_DEG = 5;

/**
 * Best azimuth on a mount at a fixed tilt (degrees): the one whose largest deviation from square over the travel is
 * smallest. `directions` holds unit vectors from base end to lid end in the mount's own body axes, x, y, z one after
 * another. The worst deviation of a stem is a maximum of smooth curves, so a coarse grid and two refinements find it
 * to `stepDeg`.
 */
export function bestAzimuth(mount: Mount, tiltDeg: number, directions: Float64Array, stepDeg = 0.1): BestAzimuth {
  const { e, side, m } = mountFrame(mount);
  const ct = Math.cos(toRad(tiltDeg));
  const st = Math.sin(toRad(tiltDeg));
  const along = (n: Vec3, i: number): number =>
    n[0] * directions[i]! + n[1] * directions[i + 1]! + n[2] * directions[i + 2]!;
  const count = directions.length / 3;
  // n·u = ct·(cos ψ·e·u + sin ψ·side·u) + st·m·u
  const a = new Float64Array(count);
  const b = new Float64Array(count);
  const c = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    a[k] = ct * along(e, 3 * k);
    b[k] = ct * along(side, 3 * k);
    c[k] = st * along(m, 3 * k);
  }
  /** |n·u| at its largest: the sine of the deviation. */
  const worst = (azimuthDeg: number): number => {
    const cp = Math.cos(toRad(azimuthDeg));
    const sp = Math.sin(toRad(azimuthDeg));
    let most = 0;
    for (let k = 0; k < count; k++) most = Math.max(most, Math.abs(cp * a[k]! + sp * b[k]! + c[k]!));
    return most;
  };
  let best = -180;
  let least = Infinity;
  const scan = (from: number, to: number, step: number): void => {
    for (let azimuth = from; azimuth <= to + 1e-9; azimuth += step) {
      const value = worst(azimuth);
      if (value < least - 1e-12) {
        least = value;
        best = azimuth;
      }
    }
  };
  scan(-180 + COARSE_DEG, 180, COARSE_DEG);
  for (let step = COARSE_DEG / 5; ; step /= 5) {
    const here = Math.max(step, stepDeg);
    scan(best - 5 * here, best + 5 * here, here);
    if (here === stepDeg) break;
  }
  const wrapped = best > 180 ? best - 360 : best <= -180 ? best + 360 : best;
  return { azimuthDeg: Number(wrapped.toFixed(6)), deviationDeg: toDeg(Math.asin(Math.min(1, least))) };
}
